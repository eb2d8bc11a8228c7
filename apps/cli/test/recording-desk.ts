import { runCommandLine } from '../src/command-line.ts';
import type { Desk } from '../src/desk.ts';

export interface Ran {
  readonly status: number;
  readonly out: string;
  readonly complaint: string;
}

/** Runs a command line in this process and keeps what it said. */
export function run(...words: string[]): Ran {
  const { desk, said } = recordingDesk();
  const status = runCommandLine(words, desk);
  if (typeof status !== 'number') throw new Error(`${words[0]} takes its time: run it by runLong`);
  return { status, ...said() };
}

/** The same with somebody at the terminal who answers what is asked, in turn. */
export async function runAttended(answers: readonly string[], ...words: string[]): Promise<Ran & { asked: string[] }> {
  const { desk, said } = recordingDesk();
  const asked: string[] = [];
  const ask = (question: string): Promise<string> => Promise.resolve(answers[asked.push(question) - 1] ?? '');
  const status = await runCommandLine(words, { ...desk, attended: true, ask });
  return { status, ...said(), asked };
}

/** The same for a verb that takes its time. */
export async function runLong(...words: string[]): Promise<Ran> {
  const { desk, said } = recordingDesk();
  const status = await runCommandLine(words, desk);
  return { status, ...said() };
}

export function recordingDesk(): { desk: Desk; said: () => { out: string; complaint: string } } {
  let [out, complaint] = ['', ''];
  const desk: Desk = {
    out: (text) => {
      out += text;
    },
    complain: (text) => {
      complaint += text;
    },
    progress: () => undefined,
    ask: () => Promise.resolve(''),
    width: 100,
    colour: false,
    attended: false,
  };
  return { desk, said: () => ({ out, complaint }) };
}

/** The one JSON object on standard output. */
export function runJson(...words: string[]): Record<string, unknown> {
  return JSON.parse(run(...words, '--json').out) as Record<string, unknown>;
}

/** A path in the repository. */
export function repositoryPath(path: string): string {
  return new URL(`../../../${path}`, import.meta.url).pathname;
}
