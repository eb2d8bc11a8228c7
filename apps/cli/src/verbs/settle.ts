import { mergeLimits } from '@curvewright/board';
import { settleAnswer } from '@curvewright/verify';
import { settlePage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { stageOf, type StageRequest } from '../stage-of.ts';

export interface SettleOptions extends StageRequest {
  readonly json?: boolean;
  /** s in which the rails rise. */
  readonly ramp?: number;
}

/** What happens from switch-on until the stage is at rest. */
export function settle(file: string, options: SettleOptions, desk: Desk): Status {
  const json = options.json ?? false;
  const solved = stageOf(file, options);
  if (!solved.ok) return refuse(desk, solved.diagnostics, json);
  const { title, state, stage, subject } = solved.value;
  const limits = subject.kind === 'job' ? subject.job.limits : mergeLimits(subject.board.limits);
  const answer = settleAnswer(stage, { within: limits.settle.within, ramp: options.ramp });
  if (!answer.ok) return refuse(desk, answer.diagnostics, json);
  if (json) printJson(desk, { title, state, ...answer.value });
  else desk.out(settlePage(answer.value, { title, state, ...desk }));
  return 0;
}
