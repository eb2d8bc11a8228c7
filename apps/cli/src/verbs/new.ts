import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { reasonOf, writeNew } from '../files.ts';

export interface NewOptions {
  readonly name: string;
}

/** Writes a commented board and job to a folder; refuses where one of them is there already, and then writes neither. */
export function startBench(folder: string, { name }: NewOptions, desk: Desk): Status {
  if (!/^[A-Za-z0-9][A-Za-z0-9-]*$/.test(name)) {
    desk.complain(`${name}: a name for files; write letters, digits and dashes`);
    return 2;
  }
  const board = join(folder, `${name}.board.yaml`);
  const job = join(folder, `${name}.job.yaml`);
  const files: readonly (readonly [string, string])[] = [
    [board, template('board.yaml')],
    [job, template('job.yaml').replace('my-unit.board.yaml', `${name}.board.yaml`)],
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

function template(name: string): string {
  return readFileSync(fileURLToPath(new URL(`../../templates/${name}`, import.meta.url)), 'utf8');
}
