import { circuitOf, type Circuit, type Diagnostic, type Outcome, type State } from '@curvewright/board';
import { solveStage, type Stage } from '@curvewright/verify';
import { readSubject, type Subject } from './subject.ts';

export interface StageRequest {
  readonly state?: State | undefined;
  readonly cartridge?: string | undefined;
  /** K. */
  readonly ambient?: number | undefined;
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
  const read = readSubject(file, request.ambient);
  if (!read.ok) return read;
  const subject = read.value;
  const state = request.state ?? (subject.kind === 'job' ? 'rebuilt' : 'drawn');
  const circuit = circuitIn(subject, state);
  if (circuit === null) return refused('wrong-form', file, stateMissing(subject, state));
  const source = sourceOf(subject, request.cartridge, file);
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

function sourceOf(subject: Subject, name: string | undefined, file: string): Outcome<Stage['source'] | undefined> {
  if (name === undefined) return { ok: true, value: undefined };
  const { cartridges } = subject.kind === 'job' ? subject.job.board : subject.board;
  const cartridge = cartridges[name];
  if (cartridge === undefined) {
    const known = Object.keys(cartridges).join(', ');
    const offer = known === '' ? 'the board has none; write it under cartridges:' : `write one of ${known}`;
    return refused('unknown-cartridge', file, `no cartridge ${name} on this board; ${offer}`);
  }
  const { resistance, inductance, cable } = cartridge;
  return { ok: true, value: { resistance, inductance, capacitance: cable ?? 0 } };
}

function refused(code: Diagnostic['code'], file: string, message: string): Outcome<never> {
  return { ok: false, diagnostics: [{ code, place: { file, line: 1, column: 1 }, message }] };
}
