import { mergeLimits, type Diagnostic, type Limits, type Outcome, type StockPart } from '@curvewright/board';
import type { Series } from '@curvewright/quantity';
import { mostTrimmed, trimPlace, trimSteps, type TrimPlace, type TrimWithin } from '@curvewright/verify';
import { diagnosticLines, trimPage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { openDrawer } from '../drawer.ts';
import { untilInterrupted } from '../interrupt.ts';
import { runSteps } from '../run-steps.ts';
import { stageOf, type StageRequest, type SubjectStage } from '../stage-of.ts';

export interface TrimOptions extends StageRequest {
  readonly json?: boolean;
  readonly within: TrimWithin;
  /** Absent: E24 where no drawer is named, else the drawer alone. */
  readonly series?: Series;
  readonly drawer?: string;
  /** Hz. */
  readonly from?: number;
  readonly to?: number;
}

/** Single parts, or two side by side or in series, that bring the equaliser back to its curve; Ctrl-C drops it. */
export async function trim(
  file: string,
  positions: readonly string[],
  options: TrimOptions,
  desk: Desk,
): Promise<Status> {
  const json = options.json ?? false;
  const solved = stageOf(file, options);
  if (!solved.ok) return refuse(desk, solved.diagnostics, json);
  const places = placesFor(positions, file, solved.value);
  const limits = limitsFor(file, options, solved.value);
  const stock = stockFor(file, options, desk);
  for (const read of [places, limits, stock]) if (!read.ok) return refuse(desk, read.diagnostics, json);
  if (!places.ok || !limits.ok || !stock.ok) return 2;
  const { title, state, stage } = solved.value;
  const series = options.series ?? (options.drawer === undefined ? 'E24' : null);
  const request = { within: options.within, series, stock: stock.value };
  const { answer, stopped } = await untilInterrupted(async (signal) => ({
    answer: await runSteps(trimSteps(stage, limits.value, places.value, request), signal, (share) => {
      desk.progress(`trimming: ${Math.floor(100 * share)} %`);
    }),
    stopped: signal.aborted,
  }));
  desk.progress('');
  if (stopped) {
    desk.complain('stopped before there was an answer');
    return 0;
  }
  if (answer === null) return refuse(desk, [fault('no-bias', file, untrimmable(options))], json);
  if (json) printJson(desk, { title, state, series, ...answer });
  else desk.out(trimPage(answer, { title, state, ...desk }));
  return 0;
}

function untrimmable({ within }: TrimOptions): string {
  return 'db' in within
    ? 'the stage cannot be solved with other values there; curve and poles tell where it stands'
    : 'the stage has no single pole or zero near 3180, 318 and 75 µs to be trimmed; write --within in dB';
}

function placesFor(
  positions: readonly string[],
  file: string,
  { subject, stage }: SubjectStage,
): Outcome<readonly TrimPlace[]> {
  const board = subject.kind === 'job' ? subject.job.board : subject.board;
  if (positions.length > mostTrimmed)
    return refused('wrong-form', file, `more than ${mostTrimmed} positions at once are not searched; name fewer`);
  const places: TrimPlace[] = [];
  for (const name of positions) {
    const place = trimPlace(name, board.positions, stage.circuit);
    if (typeof place === 'string') return refused('unknown-position', file, place);
    if (places.some(({ parts }) => parts[0]?.ref === place.parts[0]?.ref))
      return refused('designator-twice', file, `${name} is named twice; name each position once`);
    places.push(place);
  }
  return { ok: true, value: places };
}

/** The deviation's band as it is asked for. */
function limitsFor(file: string, { from, to }: TrimOptions, { subject }: SubjectStage): Outcome<Limits> {
  const limits = subject.kind === 'job' ? subject.job.limits : mergeLimits(subject.board.limits);
  const deviation = { ...limits.deviation, from: from ?? limits.deviation.from, to: to ?? limits.deviation.to };
  return deviation.from < deviation.to
    ? { ok: true, value: { ...limits, deviation } }
    : refused('out-of-range', file, '--from has to lie below --to');
}

/** Nothing where no drawer is named. */
function stockFor(file: string, { drawer: named }: TrimOptions, desk: Desk): Outcome<readonly StockPart[]> {
  if (named === undefined) return { ok: true, value: [] };
  const drawer = openDrawer(named, file);
  if (!drawer.ok) return drawer;
  if (drawer.value.leftOut.length > 0) desk.complain(diagnosticLines(drawer.value.leftOut));
  return { ok: true, value: drawer.value.stock };
}

function refused(code: Diagnostic['code'], file: string, message: string): Outcome<never> {
  return { ok: false, diagnostics: [fault(code, file, message)] };
}

function fault(code: Diagnostic['code'], file: string, message: string): Diagnostic {
  return { code, place: { file, line: 1, column: 1 }, message };
}
