import { mergeLimits } from '@curvewright/board';
import { influenceAnswer, sheetFrequencies } from '@curvewright/verify';
import { influencePage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { stageOf, type StageRequest } from '../stage-of.ts';

export interface InfluenceOptions extends StageRequest {
  readonly json?: boolean;
  readonly at?: readonly number[];
}

/** Which part matters: what one percent more of each moves in curve, gain and bias. */
export function influence(file: string, options: InfluenceOptions, desk: Desk): Status {
  const json = options.json ?? false;
  const solved = stageOf(file, options);
  if (!solved.ok) return refuse(desk, solved.diagnostics, json);
  const { subject, title, state, stage } = solved.value;
  const limits = subject.kind === 'job' ? subject.job.limits : mergeLimits(subject.board.limits);
  const answer = influenceAnswer(stage, limits, options.at ?? sheetFrequencies);
  if (answer === null) {
    const message = 'the bias stands where the equations are singular; volts and poles tell where';
    return refuse(desk, [{ code: 'no-bias', place: { file, line: 1, column: 1 }, message }], json);
  }
  if (json) printJson(desk, { title, state, ...answer });
  else desk.out(influencePage(answer, { title, state, ...desk }));
  return 0;
}
