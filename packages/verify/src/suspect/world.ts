import type { Circuit } from '@curvewright/board';
import type { Catalogue } from './catalogue.ts';
import type { ToldReading } from './evidence.ts';

/** A rail whose reading does not fit the board file. */
export interface OffRail {
  readonly rail: string;
  readonly volts: number;
  readonly expected: number;
}

/** Part of a rail's volts by which it may be off before it is to be put right: common practice, no source. */
const railShare = 0.05;

/** Rails whose voltage was read and is off, with the meter's accuracy allowed for. */
export function offRails(circuit: Circuit, { spots, healthy }: Catalogue, told: readonly ToldReading[]): readonly OffRail[] {
  return circuit.rails.flatMap(({ node }) => {
    const reading = told.find(
      ({ unit, terms: [term] }) =>
        unit === 'V' && term?.spot.kind === 'volts' && term.spot.nodes[0] === node && term.spot.nodes[1] === 'gnd',
    );
    const spot = reading?.terms[0]?.spot;
    if (reading === undefined || spot?.kind !== 'volts') return [];
    const expected = healthy.mean[spots.findIndex((each) => JSON.stringify(each) === JSON.stringify(spot))]!;
    const accuracy = 'resistance' in spot.meter ? spot.meter.accuracy : (spot.meter.accuracy * spot.meter.range) / Math.abs(expected);
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
