import { crosstalkAnswer } from '@curvewright/verify';
import { crosstalkPage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { stageOf, type StageRequest } from '../stage-of.ts';

export interface CrosstalkOptions extends StageRequest {
  readonly json?: boolean;
}

/** Separation between the channels. */
export function crosstalk(file: string, options: CrosstalkOptions, desk: Desk): Status {
  const solved = stageOf(file, options);
  if (!solved.ok) return refuse(desk, solved.diagnostics, options.json ?? false);
  const { title, state, stage } = solved.value;
  const answer = crosstalkAnswer(stage, options.cartridge);
  if (options.json) printJson(desk, { title, state, ...answer });
  else desk.out(crosstalkPage(answer, { title, state, ...desk }));
  return 0;
}
