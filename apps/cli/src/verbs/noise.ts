import { noiseAnswer } from '@curvewright/verify';
import { noisePage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { stageOf, type StageRequest } from '../stage-of.ts';

export interface NoiseOptions extends StageRequest {
  readonly json?: boolean;
}

/** Hiss, and who makes it. */
export function noise(file: string, options: NoiseOptions, desk: Desk): Status {
  const solved = stageOf(file, options);
  if (!solved.ok) return refuse(desk, solved.diagnostics, options.json ?? false);
  const { title, state, stage } = solved.value;
  const answer = noiseAnswer(stage, options.cartridge);
  if (options.json) printJson(desk, { title, state, ...answer });
  else desk.out(noisePage(answer, { title, state, ...desk }));
  return 0;
}
