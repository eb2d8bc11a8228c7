import { polesAnswer } from '@curvewright/verify';
import { polesPage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { stageOf, type StageRequest } from '../stage-of.ts';

export interface PolesOptions extends StageRequest {
  readonly json?: boolean;
}

/** Stability: poles, zeros, and the margins of the feedback loop. */
export function poles(file: string, options: PolesOptions, desk: Desk): Status {
  const json = options.json ?? false;
  const solved = stageOf(file, options);
  if (!solved.ok) return refuse(desk, solved.diagnostics, json);
  const { subject, title, state, stage } = solved.value;
  const board = subject.kind === 'job' ? subject.job.board : subject.board;
  const answer = polesAnswer(stage, board.loops, options.cartridge);
  if (!answer.ok) return refuse(desk, answer.diagnostics, json);
  if (json) printJson(desk, { title, state, ...answer.value });
  else desk.out(polesPage(answer.value, { title, state, ...desk }));
  return 0;
}
