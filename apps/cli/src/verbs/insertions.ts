import { atOnce, insertionSteps } from '@curvewright/verify';
import { insertionsPage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { stageOf, type StageRequest } from '../stage-of.ts';

export interface InsertionsOptions extends StageRequest {
  readonly json?: boolean;
}

/** What the meter and the response show of every transistor that stands in its holes the wrong way. */
export function insertions(file: string, options: InsertionsOptions, desk: Desk): Status {
  const json = options.json ?? false;
  const solved = stageOf(file, options);
  if (!solved.ok) return refuse(desk, solved.diagnostics, json);
  const { title, state, stage } = solved.value;
  const answer = atOnce(insertionSteps(stage));
  if (json) printJson(desk, { title, state, ...answer });
  else desk.out(insertionsPage(answer, { title, state, ...desk }));
  return 0;
}
