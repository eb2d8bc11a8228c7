import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { reasonOf, writeNew } from '../files.ts';

/** What the new job says of its unit; what is left out stays as in the template. */
export interface UnitWords {
  readonly model?: string;
  readonly serial?: string;
  readonly complaint?: string;
  readonly technician?: string;
}

export interface NewOptions extends UnitWords {
  readonly name?: string;
}

/** What is asked where nothing was said on the command line, in this order. */
const questions: readonly (readonly [keyof NewOptions, string])[] = [
  ['name', 'A name for the files, in letters, digits and dashes'],
  ['model', 'Model of the unit'],
  ['serial', 'Serial number'],
  ['complaint', 'What the owner reports'],
  ['technician', 'Your initials'],
];

const usualName = 'my-unit';

/**
 * Writes a commented board and job to a folder; refuses where one of them is there already, and then writes neither. Asks what it was not
 * told where somebody sits at the terminal.
 */
export function startBench(folder: string, options: NewOptions, desk: Desk): Status | Promise<Status> {
  if (!desk.attended || Object.keys(options).length > 0) return writeBench(folder, options, desk);
  return askAll(desk).then((answers) => writeBench(folder, answers, desk));
}

async function askAll(desk: Desk): Promise<NewOptions> {
  const answers: Partial<Record<keyof NewOptions, string>> = {};
  for (const [key, question] of questions) {
    const answer = (await desk.ask(`${question}${key === 'name' ? ` [${usualName}]` : ''}: `)).trim();
    if (answer !== '') answers[key] = answer;
  }
  return answers;
}

function writeBench(folder: string, { name = usualName, ...unit }: NewOptions, desk: Desk): Status {
  if (!/^[A-Za-z0-9][A-Za-z0-9-]*$/.test(name)) {
    desk.complain(`${name}: a name for files; write letters, digits and dashes`);
    return 2;
  }
  const board = join(folder, `${name}.board.yaml`);
  const job = join(folder, `${name}.job.yaml`);
  const files: readonly (readonly [string, string])[] = [
    [board, boardText(unit)],
    [job, jobText(unit).replace('my-unit.board.yaml', `${name}.board.yaml`)],
  ];
  const there = files.find(([file]) => existsSync(file));
  if (there) {
    desk.complain(`${there[0]}:1:1: the file is there already; name another folder or --name, or move it away`);
    return 2;
  }
  let at = folder;
  try {
    mkdirSync(folder, { recursive: true });
    for (const [file, text] of files) {
      at = file;
      writeNew(file, text);
    }
  } catch (trouble) {
    desk.complain(`${at}:1:1: the file ${reasonOf(trouble)}`);
    return 2;
  }
  desk.out(`wrote ${board}\nwrote ${job}\n\nNext: curvewright check ${job}\nThen fill both in; the comments say how.`);
  return 0;
}

function boardText({ model }: UnitWords): string {
  const text = template('board.yaml');
  return model === undefined ? text : withLine(text, 'title', quoted(`${model}, phono card`));
}

function jobText({ model, serial, complaint, technician }: UnitWords): string {
  let text = template('job.yaml');
  if (model !== undefined || serial !== undefined) {
    const said = [
      ...(model === undefined ? [] : [`model: ${quoted(model)}`]),
      ...(serial === undefined ? [] : [`serial: ${quoted(serial)}`]),
    ];
    text = withLine(text, 'unit', `{ ${said.join(', ')} }`);
  }
  const title = [model, complaint].filter((each) => each !== undefined).join(', ');
  if (title !== '') text = withLine(text, 'title', quoted(title));
  if (complaint !== undefined) text = withLine(text, 'complaint', quoted(complaint));
  return technician === undefined ? text : withLine(text, 'technician', quoted(technician));
}

/** With another value in the line of a key that stands at the margin. */
function withLine(text: string, key: string, value: string): string {
  return text.replace(new RegExp(`^${key}: .*$`, 'm'), () => `${key}: ${value}`);
}

/** Quotes of JSON are quotes of YAML. */
function quoted(words: string): string {
  return JSON.stringify(words);
}

function template(name: string): string {
  return readFileSync(fileURLToPath(new URL(`../../templates/${name}`, import.meta.url)), 'utf8');
}
