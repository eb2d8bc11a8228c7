import { mergeLimits, readPieces, type Diagnostic, type MeasuredPiece, type Outcome } from '@curvewright/board';
import { matchPlace, matchSteps, type MatchPlace, type Steps, type MatchAnswer } from '@curvewright/verify';
import { diagnosticLines, matchPage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { readText } from '../files.ts';
import { untilInterrupted } from '../interrupt.ts';
import { runSteps } from '../run-steps.ts';
import { stageOf, type StageRequest, type SubjectStage } from '../stage-of.ts';

export interface MatchOptions extends StageRequest {
  readonly json?: boolean;
  /** The job or board that the pieces are for. */
  readonly for: string;
}

/** The pieces of a bag with which left and right are most alike in these positions: one takes two pieces, two take four. */
export async function match(
  readings: string,
  positions: readonly string[],
  options: MatchOptions,
  desk: Desk,
): Promise<Status> {
  const json = options.json ?? false;
  const solved = stageOf(options.for, options);
  if (!solved.ok) return refuse(desk, solved.diagnostics, json);
  const places = placesFor(positions, options.for, solved.value);
  if (!places.ok) return refuse(desk, places.diagnostics, json);
  const bag = bagFor(readings, places.value);
  if (!bag.ok) return refuse(desk, bag.diagnostics, json);
  const { pieces, faults } = bag.value;
  if (faults.length > 0) desk.complain(diagnosticLines(faults));
  const { title, state, stage } = solved.value;
  const steps = matchSteps(stage, limitsOf(solved.value), places.value, pieces);
  const answer = await untilDone(steps, pieces.length, desk);
  if (answer === null) {
    desk.complain('stopped before there was an answer');
    return 0;
  }
  if (json) printJson(desk, { title, state, leftOutRows: faults.length, ...answer });
  else desk.out(matchPage(answer, { title, state, ...desk }));
  return 0;
}

async function untilDone(steps: Steps<MatchAnswer>, pieces: number, desk: Desk): Promise<MatchAnswer | null> {
  const answer = await untilInterrupted((signal) =>
    runSteps(steps, signal, (share) => {
      desk.progress(`${pieces} pieces: ${Math.floor(100 * share)} %`);
    }),
  );
  desk.progress('');
  return answer;
}

function limitsOf({ subject }: SubjectStage): ReturnType<typeof mergeLimits> {
  return subject.kind === 'job' ? subject.job.limits : mergeLimits(subject.board.limits);
}

/** The places, of one kind. */
function placesFor(
  positions: readonly string[],
  file: string,
  { subject, stage }: SubjectStage,
): Outcome<readonly MatchPlace[]> {
  const board = subject.kind === 'job' ? subject.job.board : subject.board;
  if (positions.length > 2)
    return refused('wrong-form', file, 'name one position for two pieces, or two that share a bag for four');
  const places: MatchPlace[] = [];
  for (const name of positions) {
    const place = matchPlace(name, board.positions, stage.circuit);
    if (typeof place === 'string') return refused('unknown-position', file, place);
    if (places.some(({ parts }) => parts[0].ref === place.parts[0].ref))
      return refused('designator-twice', file, `${name} is named twice; name two different positions`);
    places.push(place);
  }
  const kinds = new Set(places.map(({ parts: [part] }) => (part.kind === 'typed' ? part.type.kind : part.kind)));
  return kinds.size > 1
    ? refused('fit-mismatch', file, `${positions.join(' and ')} hold parts of two kinds; a bag serves one`)
    : { ok: true, value: places };
}

function bagFor(
  file: string,
  [first]: readonly MatchPlace[],
): Outcome<{ readonly pieces: readonly MeasuredPiece[]; readonly faults: readonly Diagnostic[] }> {
  const text = readText(file);
  if (!text.ok || first === undefined) return text.ok ? refused('wrong-form', file, 'name a position') : text;
  return readPieces(text.value, file, first.parts[0]);
}

function refused(code: Diagnostic['code'], file: string, message: string): Outcome<never> {
  return { ok: false, diagnostics: [{ code, place: { file, line: 1, column: 1 }, message }] };
}
