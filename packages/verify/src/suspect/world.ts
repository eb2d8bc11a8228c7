import type { Circuit } from '@curvewright/board';
import type { Steps } from '../steps.ts';
import { catalogueSteps, type Catalogue } from './catalogue.ts';
import { readingsIn, type ToldReading } from './evidence.ts';
import { heardEvidence, usualMisheard } from './heard.ts';
import { beliefs, type Beliefs } from './posterior.ts';
import { healthyShare, usualPriors } from './priors.ts';
import type { Spot } from './spot.ts';
import type { SuspectRequest } from './request.ts';
import { weigher, type Weigher } from './weigh.ts';

/** A rail whose reading does not fit the board file. */
export interface OffRail {
  readonly rail: string;
  readonly volts: number;
  readonly expected: number;
}

/** Part of a rail's volts by which it may be off before it is to be put right: common practice, no source. */
const railShare = 0.05;

/** Rails whose voltage was read and is off, with the meter's accuracy allowed for. */
export function offRails(
  circuit: Circuit,
  { spots, healthy }: Catalogue,
  told: readonly ToldReading[],
): readonly OffRail[] {
  return circuit.rails.flatMap(({ node }) => {
    const reading = told.find(
      ({ unit, terms: [term] }) =>
        unit === 'V' && term?.spot.kind === 'volts' && term.spot.nodes[0] === node && term.spot.nodes[1] === 'gnd',
    );
    const spot = reading?.terms[0]?.spot;
    if (reading === undefined || spot?.kind !== 'volts') return [];
    const expected = healthy.mean[spots.findIndex((each) => JSON.stringify(each) === JSON.stringify(spot))]!;
    const accuracy =
      'resistance' in spot.meter ? spot.meter.accuracy : (spot.meter.accuracy * spot.meter.range) / Math.abs(expected);
    const off = Math.abs(reading.measured - expected) > (railShare + accuracy) * Math.abs(expected);
    return off ? [{ rail: node, volts: reading.measured, expected }] : [];
  });
}

/** The board with its supplies as they were measured. */
export function withRails(circuit: Circuit, rails: readonly OffRail[]): Circuit {
  return {
    ...circuit,
    rails: circuit.rails.map((rail) => {
      const off = rails.find((each) => each.rail === rail.node);
      return off === undefined ? rail : { ...rail, volts: (rail.volts * off.volts) / off.expected };
    }),
  };
}

/** A board as its file says, or with its supplies as they were measured. */
export interface World {
  readonly catalogue: Catalogue;
  readonly weigher: Weigher;
  readonly values: Float64Array;
  readonly beliefs: Beliefs;
  /** ln of how likely it is before anything is read. */
  readonly prior: number;
  readonly rails: readonly OffRail[];
}

/** Solves every fault in it and weighs them; null where the board has no bias in it. */
export function* worldSteps(
  { source, matched, evidence, suspecting }: SuspectRequest,
  circuit: Circuit,
  spots: readonly Spot[],
  rails: readonly OffRail[],
): Steps<World | null> {
  const priors = { ...usualPriors, ...suspecting?.priors };
  const catalogue = yield* catalogueSteps({ circuit, source, spots, matched, priors, read: evidence.spots });
  if (catalogue === null) return null;
  const { readings, shared, values } = readingsIn(catalogue, evidence.told);
  const own = weigher(catalogue, readings, shared);
  const misheard = suspecting?.misheard ?? usualMisheard;
  const believed = beliefs(catalogue, own, values, (fits) => heardEvidence(catalogue, fits, evidence.heard, misheard));
  const total = catalogue.entries.reduce((sum, { hypothesis }) => sum + hypothesis.weight, 0);
  const prior = rails.length * Math.log(((1 - healthyShare) * priors.supply) / total);
  return { catalogue, weigher: own, values, beliefs: believed, prior, rails };
}
