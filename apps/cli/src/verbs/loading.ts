import type { Outcome } from '@curvewright/board';
import { loadingAnswer, type LoadingAnswer, type NamedCartridge } from '@curvewright/verify';
import { loadingPage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { cartridgeNamed, cartridgesOf, stageOf, type StageRequest, type SubjectStage } from '../stage-of.ts';

export interface LoadingOptions extends StageRequest {
  readonly json?: boolean;
}

/** What the cartridge sees, and its response into it; where none is named, the board's first. */
export function loading(file: string, options: LoadingOptions, desk: Desk): Status {
  const json = options.json ?? false;
  const solved = stageOf(file, { ...options, cartridge: undefined });
  if (!solved.ok) return refuse(desk, solved.diagnostics, json);
  const cartridge = cartridgeFor(solved.value, options.cartridge, file);
  if (!cartridge.ok) return refuse(desk, cartridge.diagnostics, json);
  const { title, state, stage } = solved.value;
  const answer: LoadingAnswer = loadingAnswer(stage, cartridge.value);
  if (json) printJson(desk, { title, state, ...answer });
  else desk.out(loadingPage(answer, { title, state, ...desk }));
  return 0;
}

function cartridgeFor(
  { subject }: SubjectStage,
  asked: string | undefined,
  file: string,
): Outcome<NamedCartridge | null> {
  const name = asked ?? Object.keys(cartridgesOf(subject))[0];
  return name === undefined ? { ok: true, value: null } : cartridgeNamed(subject, name, file);
}
