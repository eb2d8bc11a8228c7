import { headroom as headroomOf } from '@curvewright/verify';
import { headroomPage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { stageOf, type StageRequest } from '../stage-of.ts';

export interface HeadroomOptions extends StageRequest {
  readonly json?: boolean;
}

/** Overload with the part that limits, and distortion over level. */
export function headroom(file: string, options: HeadroomOptions, desk: Desk): Status {
  const solved = stageOf(file, options);
  if (!solved.ok) return refuse(desk, solved.diagnostics, options.json ?? false);
  const { title, state, stage } = solved.value;
  const answer = headroomOf(stage);
  if (options.json) printJson(desk, { title, state, ...answer });
  else desk.out(headroomPage(answer, { title, state, ...desk }));
  return 0;
}
