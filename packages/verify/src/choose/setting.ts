import type { Board, Job, Limits, PartType, StockPart } from '@curvewright/board';
import type { Probe } from '../figure.ts';
import { settleAnswer } from '../settle.ts';
import { withReach } from '../spread/with-reach.ts';
import type { StagedJob } from '../staged-job.ts';
import { fitQuestions } from '../fit/fit-rows.ts';
import { candidatesFor, describeCandidate, type Candidate } from './candidate.ts';
import type { Choice, ChoicePlace } from './choice-place.ts';
import { fitRule, type FitSurroundings } from './fit-rule.ts';
import type { Spot } from './spots.ts';
import { trialBench, unseen } from './trial-bench.ts';
import type { Trial } from './trial.ts';

/** A rework on the bench with a drawer beside it. */
export interface ChoiceSetting {
  readonly job: Job;
  readonly limits: Limits;
  readonly loops: Board['loops'];
  /** The rework as the job has it. */
  readonly base: Probe;
  readonly drawn: Probe;
  readonly stock: readonly StockPart[];
  /** What the board, the job and the drawer know of types; the job's stand over the others. */
  readonly types: Readonly<Record<string, PartType>>;
  /** What the questions of fit are asked of. */
  readonly around: FitSurroundings;
  candidates(place: ChoicePlace): readonly Candidate[];
  /** In words. */
  describe(candidate: Candidate): string;
  /** The rework with these in place; choices that differ in nothing the circuit sees are solved once. Null without a bias. */
  try(choices: readonly Choice[]): Trial | null;
  /** What bounds the spots of every trial. */
  spots(): readonly Spot[];
  /** Stages solved so far. */
  solved(): number;
}

export interface DrawerContent {
  readonly stock: readonly StockPart[];
  /** Of a file beside the drawer. */
  readonly types: Readonly<Record<string, PartType>>;
}

/** For choices in these places. Throws for a board without a job: there is nothing to choose. */
export function choiceSetting(
  { job, limits, loops, states }: StagedJob,
  drawer: DrawerContent,
  places: readonly ChoicePlace[],
): ChoiceSetting {
  const [first, last] = [states[0], states.at(-1)];
  if (job === null || first === undefined || last === undefined) throw new RangeError('a choice without a job');
  const base = last.probe;
  const drawn = withReach(first.probe, job.board);
  const settled = settleAnswer(base.stage, { within: limits.settle.within });
  const settle = settled.ok ? settled.value : null;
  const types = { ...drawer.types, ...job.types };
  const bench = trialBench(base.stage, drawn, limits, places);
  const context = { stage: base.stage, drawn: drawn.stage, ratings: limits.ratings, settle };
  const around = { ...context, ask: fitQuestions(context) };
  const described = new Map<string, string>();
  const known = new Map<string, Trial | null>();
  const asked = new Map<string, readonly Candidate[]>();
  return {
    ...{ job, limits, loops, base, drawn, stock: drawer.stock, types, around },
    candidates(place) {
      const key = place.refs.join('/');
      const before = asked.get(key);
      if (before !== undefined) return before;
      const made = candidatesFor(place, drawer.stock, types, fitRule(place, around));
      asked.set(key, made);
      return made;
    },
    describe(candidate) {
      const { stock, pieces, place } = candidate;
      // The setting of a trimmer is the place's own, and told with it.
      const key = `${stock.kind === 'trimmer' ? place.refs.join('/') : ''} ${pieces} ${stock.stock}`;
      const words = described.get(key) ?? describeCandidate(candidate);
      described.set(key, words);
      return words;
    },
    try(choices) {
      const key = choices.map(electricalKey).join('|');
      const before = known.get(key);
      if (before !== undefined) return before;
      const trial = bench.try(choices);
      known.set(key, trial);
      return trial;
    },
    spots: () => bench.spots(),
    solved: () => bench.solved,
  };
}

/** All that the circuit sees of a choice. */
function electricalKey({ place, parts }: Choice): string {
  const words = parts.map((part) => {
    switch (part.kind) {
      case 'capacitor':
        return `${part.farads} ${part.esr ?? ''} ${part.leakage ?? ''} ${part.loss ?? ''}`;
      case 'resistor':
        return String(part.ohms);
      default:
        return JSON.stringify(part, (key, value: unknown) => (unseen.includes(key) ? undefined : value));
    }
  });
  return `${place.refs.join('/')} ${words.join(';')}`;
}
