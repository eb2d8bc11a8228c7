import type { Diagnostic } from '@curvewright/board';
import { diagnosticLines } from '@curvewright/report';
import type { Desk } from './desk.ts';

/** Exit statuses: 0 good or look (or answered), 1 fail, 3 not measured, 2 unusable input. */
export type Status = 0 | 1 | 2 | 3;

/** One line a fault on standard error; with `json` the same as data on standard output. Status 2. */
export function refuse(desk: Desk, diagnostics: readonly Diagnostic[], json: boolean): Status {
  desk.complain(diagnosticLines(diagnostics));
  if (json) {
    const errors = diagnostics.map(({ code, place: { file, line, column }, message }) => ({
      code,
      file,
      line,
      column,
      message,
    }));
    printJson(desk, { errors });
  }
  return 2;
}

export function printJson(desk: Desk, answer: unknown): void {
  desk.out(JSON.stringify(answer, null, 2));
}
