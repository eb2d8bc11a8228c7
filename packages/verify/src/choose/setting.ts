import type { Board, Job, Limits, PartType, StockPart } from '@curvewright/board';
import type { Probe } from '../figure.ts';
import { settleAnswer, type SettleAnswer } from '../settle.ts';
import { withReach } from '../spread/with-reach.ts';
import type { StagedJob } from '../staged-job.ts';
import { candidatesFor, type Candidate } from './candidate.ts';
import type { Choice, ChoicePlace } from './choice-place.ts';
import { fitRule } from './fit-rule.ts';
import type { Spot } from './spots.ts';
import { trialBench } from './trial-bench.ts';
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
  readonly settle: SettleAnswer | null;
  candidates(place: ChoicePlace): readonly Candidate[];
  /** Bias and curve with these in place; choices that differ in nothing the circuit sees are solved once. Null without a bias. */
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

/** Throws for a board without a job: there is nothing to choose. */
export function choiceSetting({ job, limits, loops, states }: StagedJob, drawer: DrawerContent): ChoiceSetting {
  const [first, last] = [states[0], states.at(-1)];
  if (job === null || first === undefined || last === undefined) throw new RangeError('a choice without a job');
  const base = last.probe;
  const drawn = withReach(first.probe, job.board);
  const settled = settleAnswer(base.stage, { within: limits.settle.within });
  const settle = settled.ok ? settled.value : null;
  const types = { ...drawer.types, ...job.types };
  const bench = trialBench(base.stage, drawn, limits);
  const around = { base: base.stage, drawn: drawn.stage, ratings: limits.ratings, settle };
  const known = new Map<string, Trial | null>();
  const asked = new Map<string, readonly Candidate[]>();
  return {
    ...{ job, limits, loops, base, drawn, stock: drawer.stock, types, settle },
    candidates(place) {
      const key = place.refs.join('/');
      const before = asked.get(key);
      if (before !== undefined) return before;
      const made = candidatesFor(place, drawer.stock, types, fitRule(place, around));
      asked.set(key, made);
      return made;
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
        return JSON.stringify(part, (key, value: unknown) =>
          ['place', 'body', 'seat', 'tolerance', 'rated'].includes(key) ? undefined : value,
        );
    }
  });
  return `${place.refs.join('/')} ${words.join(';')}`;
}
