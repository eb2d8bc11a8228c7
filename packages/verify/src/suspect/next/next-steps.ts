import type { Suspecting } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import { bareName } from '../../node-volts.ts';
import type { Catalogue } from '../catalogue.ts';
import { errorVariance } from '../covariance.ts';
import { readingsIn, type Evidence } from '../evidence.ts';
import { sharesOf, type Beliefs } from '../posterior.ts';
import type { Spot } from '../spot.ts';
import { cautionOf, usualMinutes } from './cautions.ts';
import { readingBits, trialBits } from './information.ts';
import { outlook } from './outlook.ts';
import { readingOutcomes, trialOutcomes } from './outcomes.ts';
import type { NextStep } from './step.ts';
import { trialsOf } from './trials.ts';

export interface NextRequest {
  readonly catalogue: Catalogue;
  readonly values: Float64Array;
  readonly beliefs: Beliefs;
  readonly evidence: Evidence;
  readonly minutes: NonNullable<Suspecting['minutes']>;
}

/** Steps that are told; one that is worth less than a hundredth of a bit is none. */
const mostSteps = 8;
const leastBits = 0.01;

/** Hypotheses that trials are played through with. */
const mostSuspects = 10;

/** What to do next, that with most to learn in a minute first. */
export function nextSteps({ catalogue, values, beliefs, evidence, minutes }: NextRequest): readonly NextStep[] {
  const shares = sharesOf(beliefs);
  const { readings, shared } = readingsIn(catalogue, evidence.told);
  const ahead = outlook({ catalogue, readings, shared }, values, beliefs, shares, catalogue.healthy);
  const cost = { ...usualMinutes, ...minutes };
  const read = new Set(evidence.spots.map((spot) => JSON.stringify(spot)));
  const fromReadings = catalogue.spots.flatMap((spot, s): readonly NextStep[] => {
    if (read.has(JSON.stringify(spot)) || (spot.kind !== 'volts' && spot.kind !== 'gain')) return [];
    const components = ahead.components(s);
    const kind = spot.kind === 'volts' ? 'volts' : 'response';
    const bits = readingBits(components);
    const print = (value: number): string =>
      spot.kind === 'volts' ? `${value.toFixed(2)} V` : `${value.toFixed(1)} dB`;
    return [
      {
        kind,
        ...placeOf(spot, catalogue),
        minutes: cost[kind],
        bits,
        bitsPerMinute: bits / cost[kind],
        caution: cautionOf(kind, catalogue.circuit),
        outcomes: readingOutcomes(components, normalAt(catalogue, s), print).map((outcome) => ({
          ...outcome,
          shows: minus(outcome.shows),
        })),
      },
    ];
  });
  const suspects = beliefs.entries
    .map(({ entry, best }, n) => ({ entry, best, share: shares.entries[n]! }))
    .filter(({ share }) => share >= 0.005)
    .sort((a, b) => b.share - a.share)
    .slice(0, mostSuspects);
  const fromTrials = trialsOf(catalogue, suspects, shares.healthy, evidence.heard).map((trial): NextStep => {
    const bits = trialBits(trial.chances);
    return {
      kind: trial.kind,
      action: trial.action,
      where: trial.where,
      minutes: cost[trial.kind],
      bits,
      bitsPerMinute: bits / cost[trial.kind],
      caution: cautionOf(trial.kind, catalogue.circuit),
      outcomes: trialOutcomes(trial.chances, ...trial.shows),
    };
  });
  return [...fromReadings, ...fromTrials]
    .filter(({ bits }) => bits >= leastBits)
    .sort((a, b) => b.bitsPerMinute - a.bitsPerMinute)
    .slice(0, mostSteps);
}

/** What a healthy board shows there, and how far healthy boards stray. */
function normalAt({ healthy, spots, loose }: Catalogue, s: number): { readonly mean: number; readonly sigma: number } {
  const mean = healthy.mean[s]!;
  const moves = healthy.moves.subarray(s * loose.groups.length, (s + 1) * loose.groups.length);
  return { mean, sigma: Math.hypot(healthy.open[s]!, Math.sqrt(errorVariance(spots[s]!, mean)), ...moves) };
}

function minus(words: string): string {
  return words.replace(/-(?=\d)/g, '−');
}

function placeOf(spot: Spot, { circuit }: Catalogue): Pick<NextStep, 'action' | 'where'> {
  switch (spot.kind) {
    case 'volts': {
      const [plus, minusNode] = spot.nodes;
      const where = minusNode === 'gnd' ? plus : `${plus} − ${minusNode}`;
      return {
        action: `read the voltage at ${spoken(plus)}${minusNode === 'gnd' ? '' : ` over ${spoken(minusNode)}`}`,
        where,
      };
    }
    case 'gain': {
      const channel = circuit.channels[spot.channel]?.name ?? '';
      const hz = printQuantity(spot.hz, 'Hz', 3);
      return { action: `measure the gain at ${hz}, ${channel}`, where: `${hz}, ${channel}` };
    }
    case 'ohms':
    case 'hiss':
    case 'hum':
      return { action: spot.kind, where: spot.kind };
  }
}

function spoken(node: string): string {
  const channel = node.includes('@') ? `, ${node.split('@')[1] ?? ''}` : '';
  return `${bareName(node)}${channel}`;
}
