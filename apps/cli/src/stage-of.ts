import { circuitOf, type Board, type Circuit, type Diagnostic, type Outcome, type State } from '@curvewright/board';
import { solveStage, type NamedCartridge, type Stage } from '@curvewright/verify';
import type { Conditions } from './conditions.ts';
import { readSubject, type Subject } from './subject.ts';

export interface StageRequest extends Conditions {
  readonly state?: State | undefined;
  readonly cartridge?: string | undefined;
  /** Ω of a resistor at the input in place of a cartridge. */
  readonly source?: number | undefined;
}

/** A subject's stage in one state, by default `rebuilt` of a job and `drawn` of a board. */
export interface SubjectStage {
  readonly subject: Subject;
  readonly title: string;
  readonly state: State;
  readonly stage: Stage;
}

/** Reads a file and solves it in the state that is asked for, with the cartridge that is asked for at its input. */
export function stageOf(file: string, request: StageRequest): Outcome<SubjectStage> {
  const read = readSubject(file, request);
  if (!read.ok) return read;
  const subject = read.value;
  const state = request.state ?? (subject.kind === 'job' ? 'rebuilt' : 'drawn');
  const circuit = circuitIn(subject, state);
  if (circuit === null) return refused('wrong-form', file, stateMissing(subject, state));
  const source = sourceOf(subject, request, file);
  if (!source.ok) return source;
  const stage = solveStage(circuit, source.value);
  if (!stage.ok) return stage;
  const title = subject.kind === 'job' ? subject.job.entry.title : subject.board.title;
  return { ok: true, value: { subject, title, state, stage: stage.value } };
}

function circuitIn(subject: Subject, state: State): Circuit | null {
  if (subject.kind === 'job') return circuitOf(subject.job, state)?.circuit ?? null;
  return state === 'drawn' ? subject.board.circuit : null;
}

function stateMissing(subject: Subject, state: State): string {
  return subject.kind === 'job'
    ? `the job says of no position what was pulled, so there is no state ${state}; write pulled: under a position, or ask for drawn or rebuilt`
    : `a board file alone has no state ${state}; name a job file, or ask for drawn`;
}

function sourceOf(
  subject: Subject,
  { cartridge: name, source: resistance }: StageRequest,
  file: string,
): Outcome<Stage['source'] | undefined> {
  if (resistance !== undefined) return { ok: true, value: { resistance, inductance: 0, capacitance: 0 } };
  return name === undefined ? { ok: true, value: undefined } : cartridgeNamed(subject, name, file);
}

/** One of the board's cartridges with its cable, as a source. */
export function cartridgeNamed(subject: Subject, name: string, file: string): Outcome<NamedCartridge> {
  const cartridges = cartridgesOf(subject);
  const cartridge = cartridges[name];
  if (cartridge === undefined) {
    const known = Object.keys(cartridges).join(', ');
    const offer = known === '' ? 'the board has none; write it under cartridges:' : `write one of ${known}`;
    return refused('unknown-cartridge', file, `no cartridge ${name} on this board; ${offer}`);
  }
  const { resistance, inductance, cable } = cartridge;
  return { ok: true, value: { name, resistance, inductance, capacitance: cable ?? 0 } };
}

export function cartridgesOf(subject: Subject): Board['cartridges'] {
  return subject.kind === 'job' ? subject.job.board.cartridges : subject.board.cartridges;
}

function refused(code: Diagnostic['code'], file: string, message: string): Outcome<never> {
  return { ok: false, diagnostics: [{ code, place: { file, line: 1, column: 1 }, message }] };
}
