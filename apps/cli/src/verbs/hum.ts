import { humAnswer } from '@curvewright/verify';
import { humPage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { stageOf, type StageRequest } from '../stage-of.ts';

export interface HumOptions extends StageRequest {
  readonly json?: boolean;
}

/** What the supplies' ripple does at the outputs. */
export function hum(file: string, options: HumOptions, desk: Desk): Status {
  const solved = stageOf(file, options);
  if (!solved.ok) return refuse(desk, solved.diagnostics, options.json ?? false);
  const { title, state, stage } = solved.value;
  const answer = humAnswer(stage, options.cartridge);
  if (options.json) printJson(desk, { title, state, ...answer });
  else desk.out(humPage(answer, { title, state, ...desk }));
  return 0;
}
