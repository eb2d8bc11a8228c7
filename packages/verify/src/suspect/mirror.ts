import { leadsOf, type Circuit } from '@curvewright/board';
import { channelContent, twinPart } from '../channel-twins.ts';
import type { Entry } from './entry.ts';
import type { Hypothesis } from './hypothesis.ts';
import type { LooseSpread } from './loose-spread.ts';
import type { Prediction, PredictionSetting } from './predict.ts';
import { twinSpot, type Spot } from './spot.ts';

/** Two channels of one content, and nothing shared that leans to one of them. */
export function haveTwins(circuit: Circuit): boolean {
  if (circuit.channels.length !== 2) return false;
  const leans = circuit.parts.some(
    (part) => part.channel === null && Object.values(leadsOf(part)).some((node) => node.includes('@')),
  );
  return !leans && channelContent(circuit, 0) === channelContent(circuit, 1);
}

/** The spots, and those that their twins in the other channel are. */
export function closedSpots(spots: readonly Spot[], circuit: Circuit): readonly Spot[] {
  const all = new Map(spots.map((spot) => [JSON.stringify(spot), spot]));
  for (const spot of spots) {
    const twin = twinSpot(spot, circuit, 0, 1);
    if (!all.has(JSON.stringify(twin))) all.set(JSON.stringify(twin), twin);
  }
  return [...all.values()];
}

export interface Mirror {
  /** Where each spot's twin stands, and each group's. */
  readonly spots: readonly number[];
  readonly groups: readonly number[];
}

export function mirrorOf({ spots, loose }: PredictionSetting, circuit: Circuit): Mirror {
  const placeOf = new Map(spots.map((spot, s) => [JSON.stringify(spot), s]));
  const channelOf = new Map(circuit.parts.map(({ ref, channel }) => [ref, channel]));
  const twinRef = (ref: string): string => {
    const channel = circuit.channels.findIndex(({ name }) => name === channelOf.get(ref));
    return channel < 0 ? ref : twinPart(circuit, ref, channel, 1 - channel);
  };
  const groupOf = new Map<string, number>();
  loose.groups.forEach(({ members }, g) => {
    for (const v of members) groupOf.set(valueKey(loose.values[v]!), g);
  });
  return {
    spots: spots.map((spot) => placeOf.get(JSON.stringify(twinSpot(spot, circuit, 0, 1)))!),
    groups: loose.groups.map(({ members }) => {
      const value = loose.values[members[0]!]!;
      return groupOf.get(valueKey({ ...value, ref: twinRef(value.ref) }))!;
    }),
  };
}

function valueKey({ ref, parameter }: LooseSpread['values'][number]): string {
  return `${ref} ${parameter}`;
}

export function mirrored(entry: Entry, hypothesis: Hypothesis, { spots, groups }: Mirror): Entry {
  const turned = (prediction: Prediction): Prediction => {
    const moves = new Float32Array(prediction.moves.length);
    spots.forEach((from, s) => {
      groups.forEach((other, g) => (moves[s * groups.length + g] = prediction.moves[from * groups.length + other]!));
    });
    return {
      mean: Float64Array.from(spots, (from) => prediction.mean[from]!),
      moves,
      open: Float64Array.from(spots, (from) => prediction.open[from]!),
    };
  };
  const runOf = new Map(entry.hypothesis.runs.map((run, r) => [run, hypothesis.runs[r]!]));
  return {
    hypothesis,
    runs: entry.runs.map(({ of, values, predictions }) => ({
      of: runOf.get(of)!,
      values,
      predictions: predictions.map(turned),
    })),
  };
}
