import { circuitOf, type Diagnostic, type Job, type Outcome } from '@curvewright/board';
import {
  choiceSetting,
  chooseSteps,
  placeNamed,
  planSteps,
  stageJob,
  touchedPlaces,
  type ChoicePlace,
  type ChoiceSetting,
  type PlaceAnswer,
  type PlanAnswer,
} from '@curvewright/verify';
import { choosePage, diagnosticLines } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Conditions } from '../conditions.ts';
import type { Desk } from '../desk.ts';
import { openDrawer, type OpenDrawer } from '../drawer.ts';
import { untilInterrupted } from '../interrupt.ts';
import { runSteps } from '../run-steps.ts';
import { readSubject } from '../subject.ts';

export interface ChooseOptions extends Conditions {
  readonly json?: boolean;
  readonly drawer?: string;
  /** The smallest set of changes over all positions, too. */
  readonly all?: boolean;
}

interface Choosing {
  readonly title: string;
  readonly drawer: OpenDrawer;
  readonly places: readonly ChoicePlace[];
  readonly setting: ChoiceSetting;
  /** Whether one position is asked for. */
  readonly isOne: boolean;
}

interface Chosen {
  readonly positions: readonly PlaceAnswer[];
  /** Null where it was not asked for, or not come to. */
  readonly plan: PlanAnswer | null;
  readonly stopped: boolean;
}

/** The parts of the drawer that serve each position, simulated in place and ranked; Ctrl-C gives what is done so far. */
export async function choose(
  file: string,
  position: string | undefined,
  options: ChooseOptions,
  desk: Desk,
): Promise<Status> {
  const json = options.json ?? false;
  const prepared = prepare(file, position, options);
  if (!prepared.ok) return refuse(desk, prepared.diagnostics, json);
  const { title, drawer, isOne } = prepared.value;
  if (drawer.leftOut.length > 0) desk.complain(diagnosticLines(drawer.leftOut));
  const chosen = await untilInterrupted((signal) => answer(prepared.value, options.all ?? false, signal, desk));
  desk.progress('');
  const { positions, plan, stopped } = chosen;
  const kept = { file: drawer.file, rows: drawer.stock.length, leftOut: drawer.leftOut.length };
  if (json) printJson(desk, { title, drawer: kept, stopped, positions, ...{ plan: [], ...plan } });
  else desk.out(choosePage({ drawer: kept, positions, plan, stopped, isOne }, { title, ...desk }));
  return 0;
}

async function answer(
  { places, setting, isOne }: Choosing,
  withPlan: boolean,
  signal: AbortSignal,
  desk: Desk,
): Promise<Chosen> {
  const positions: PlaceAnswer[] = [];
  for (const place of places) {
    const name = place.refs.join('/');
    const before = `${name}, ${positions.length + 1} of ${places.length} positions`;
    const found = await runSteps(chooseSteps(place, setting, { thorough: isOne }), signal, (share) => {
      desk.progress(`${before}: ${percent(share)} of ${setting.candidates(place).length} candidates`);
    });
    if (found === null) return { positions, plan: null, stopped: true };
    positions.push(found);
  }
  if (!withPlan) return { positions, plan: null, stopped: false };
  const plan = await runSteps(planSteps(places, setting), signal, (share) => {
    desk.progress(`the smallest set of changes: ${percent(share)}, ${setting.solved()} stages solved`);
  });
  return { positions, plan, stopped: plan === null };
}

function percent(share: number): string {
  return `${Math.floor(100 * share)} %`;
}

function prepare(file: string, position: string | undefined, options: ChooseOptions): Outcome<Choosing> {
  const read = readSubject(file, options);
  if (!read.ok) return read;
  if (read.value.kind === 'board')
    return refused('wrong-form', file, 'a board file alone has nothing to choose for; name a job file');
  const { job } = read.value;
  if (position !== undefined && options.all === true)
    return refused('wrong-form', file, '--all speaks of every position; leave out either the position or --all');
  const staged = stageJob(job);
  if (!staged.ok) return staged;
  const rebuilt = circuitOf(job, 'rebuilt')?.circuit ?? job.board.circuit;
  const named = position === undefined ? null : placeNamed(position, job, rebuilt);
  if (position !== undefined && named === null) return refused('unknown-position', file, unknown(position, job));
  const drawer = openDrawer(options.drawer, file);
  if (!drawer.ok) return drawer;
  const places = named === null ? touchedPlaces(job, rebuilt) : [named];
  const setting = choiceSetting(staged.value, drawer.value, places);
  const title = job.entry.title;
  return { ok: true, value: { title, drawer: drawer.value, places, setting, isOne: named !== null } };
}

function unknown(position: string, job: Job): string {
  const some = job.board.positions.slice(0, 3).map((refs) => refs.join('/'));
  return `the board has no position ${position}; write one of its designators: ${some.join(', ')} …`;
}

function refused(code: Diagnostic['code'], file: string, message: string): Outcome<never> {
  return { ok: false, diagnostics: [{ code, place: { file, line: 1, column: 1 }, message }] };
}
