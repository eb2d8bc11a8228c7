import type { Diagnostic } from '@curvewright/board';
import {
  checkSteps,
  headroom,
  headroomFrequencies,
  loadingAnswer,
  noiseAnswer,
  settleAnswer,
  spreadAnswer,
  spreadPlan,
  spreadRunner,
  within,
  type CheckMemory,
  type HeadroomAnswer,
  type NamedCartridge,
  type SpreadAnswer,
  type StagedState,
  type Steps,
  type Tally,
} from '@curvewright/verify';
import type { RowEffect, SheetView } from '../contract/sheet.ts';
import type { SlowAnswers, SlowKind, SlowRequest } from '../contract/slow.ts';
import type { Bench } from './bench.ts';
import { rowEffectWithHiss } from './row-hiss.ts';
import { jobRows } from './sheet-rows.ts';
import { toldView } from './sheet-view.ts';

/** An answer, or why there is none. */
export type Answered<T> = { readonly answer: T } | { readonly diagnostics: readonly Diagnostic[] };

type AnswerSteps<K extends SlowKind> = (
  bench: Bench,
  state: StagedState,
  memory: CheckMemory,
) => Steps<Answered<SlowAnswers[K]>>;

const kinds: { readonly [K in SlowKind]: AnswerSteps<K> } = {
  told: toldSteps,
  noise: (_, { probe }) => inOne(() => ({ answer: noiseAnswer(probe.stage) })),
  loading: (bench, { probe }) => inOne(() => ({ answer: loadingAnswer(probe.stage, firstCartridge(bench)) })),
  settle: ({ staged }, { probe }) =>
    inOne(() => {
      const settled = settleAnswer(probe.stage, { within: staged.limits.settle.within });
      return settled.ok ? { answer: settled.value } : settled;
    }),
  headroom: (_, { probe }) => headroomSteps(probe.stage),
  spread: spreadSteps,
};

/** Work that is not taken apart. */
function* inOne<T>(make: () => T): Steps<T> {
  yield 0;
  return make();
}

/** The steps of what is asked for; a state that the subject does not have is the one on which its verdict rests. */
export function slowSteps<K extends SlowKind>(
  bench: Bench,
  { kind, state }: Pick<SlowRequest<K>, 'kind' | 'state'>,
  memory: CheckMemory,
): Steps<Answered<SlowAnswers[K]>> {
  const { states } = bench.staged;
  const asked = states.find((each) => each.state === state) ?? states.at(-1);
  if (asked === undefined) throw new RangeError('a bench without a state');
  return kinds[kind](bench, asked, memory);
}

function* toldSteps(bench: Bench, _: StagedState, memory: CheckMemory): Steps<Answered<SheetView>> {
  const { job } = bench.subject;
  const check = yield* within(0, 0.95, checkSteps(bench.staged, memory));
  const effects = new Map<string, RowEffect | null>();
  const rows = job === null ? [] : jobRows(job);
  for (const row of rows) {
    if (job !== null) effects.set(row.key, rowEffectWithHiss(bench, job, row));
    yield 0.95 + (0.05 * effects.size) / rows.length;
  }
  return { answer: toldView(bench, check, effects) };
}

function firstCartridge({ subject }: Bench): NamedCartridge | null {
  const [first] = Object.entries(subject.board.cartridges);
  if (first === undefined) return null;
  const [name, { resistance, inductance, cable }] = first;
  return { name, resistance, inductance, capacitance: cable ?? 0 };
}

function* headroomSteps(stage: StagedState['probe']['stage']): Steps<Answered<HeadroomAnswer>> {
  const answers: HeadroomAnswer[] = [];
  for (const hz of headroomFrequencies) {
    answers.push(headroom(stage, [hz]));
    yield answers.length / headroomFrequencies.length;
  }
  const channels = stage.circuit.channels.map(({ name }, c) => ({
    name,
    overload: answers.flatMap((answer) => answer.channels[c]?.overload ?? []),
    points: answers.flatMap((answer) => answer.channels[c]?.points ?? []),
  }));
  return { answer: { channels } };
}

/** Boards drawn for the band of a figure: its 5 and 95 % are then known to some per cent of its width. */
const boards = 1000;
const chunk = 50;
const seed = 1;

function* spreadSteps({ subject, staged }: Bench, { probe }: StagedState): Steps<Answered<SpreadAnswer>> {
  const drawn = staged.states[0]?.probe ?? probe;
  const plan = spreadPlan(probe.stage, drawn.stage, { limits: staged.limits, matched: subject.board.matched, seed });
  const runner = spreadRunner(plan);
  if (runner === null) {
    const place = { file: subject.text.board.path, line: 1, column: 1 };
    const message = 'the board cannot be solved at every frequency; curve and poles tell where it stands';
    return { diagnostics: [{ code: 'no-bias', place, message }] };
  }
  const tallies: Tally[] = [];
  for (let from = 0; from < boards; from += chunk) {
    tallies.push(runner.run(from, chunk));
    yield (0.9 * (from + chunk)) / boards;
  }
  return { answer: spreadAnswer(runner, tallies) };
}
