import { runCommandLine } from '../src/command-line.ts';
import type { Desk } from '../src/desk.ts';

export interface Ran {
  readonly status: number;
  readonly out: string;
  readonly complaint: string;
}

/** Runs a command line in this process and keeps what it said. */
export function run(...words: string[]): Ran {
  let [out, complaint] = ['', ''];
  const desk: Desk = {
    out: (text) => {
      out += text;
    },
    complain: (text) => {
      complaint += text;
    },
    width: 100,
    colour: false,
  };
  return { status: runCommandLine(words, desk), out, complaint };
}

/** The one JSON object on standard output. */
export function runJson(...words: string[]): Record<string, unknown> {
  return JSON.parse(run(...words, '--json').out) as Record<string, unknown>;
}

/** A path in the repository. */
export function repositoryPath(path: string): string {
  return new URL(`../../../${path}`, import.meta.url).pathname;
}
