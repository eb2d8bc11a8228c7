import type { TypedPart } from '@curvewright/board';
import { nodeVolts } from '@curvewright/network';
import { printQuantity } from '@curvewright/quantity';
import { deviceBias, type PartBias } from '../voltage-chart.ts';
import { furthest, saidVolts, saidWatts, swingOf, type FitContext, type FitRow } from './fit-row.ts';
import { ratingRow, type Demand } from './rating-row.ts';

/** °C at which data-sheet ratings hold. */
const statedAt = 25;

const zeroCelsius = 273.15;

/** Reverse V of base and emitter below which no rating is asked for: rounding and a millivolt of signal. */
const noReverse = 0.01;

/** The ratings of a semiconductor or valve, held against its bias and what it sees on the way up. */
export function deviceRatings(part: TypedPart, context: FitContext): readonly FitRow[] {
  return demandsOf(part, context).flatMap((demand) => ratingRow(part, demand));
}

function demandsOf(part: TypedPart, context: FitContext): readonly Demand[] {
  const { type } = part;
  const { ratings } = context;
  const bias = biasOf(part, context);
  switch (type.kind) {
    case 'npn':
    case 'pnp': {
      const { icA, vceV, powerW } = bias as Extract<PartBias, { icA: number }>;
      return [
        volts(part, 'VCEO', ratings.VCEO, furthest(swingOf(context, part.ref, 'collector-emitter', vceV)), true),
        ...reverseDemand(part, context),
        current(part, 'IC', ratings.IC, icA, true),
        power(part, context, powerW, true),
      ];
    }
    case 'diode':
    case 'zener': {
      const { volts: drop, amps, powerW } = bias as Extract<PartBias, { amps: number }>;
      const reverse = -swingOf(context, part.ref, 'anode-cathode', drop).lowest;
      return [
        ...(type.kind === 'diode' ? [volts(part, 'VR', 1, Math.max(0, reverse), false)] : []),
        ...(type.kind === 'diode' ? [current(part, 'IF', ratings.IC, Math.max(0, amps), false)] : []),
        power(part, context, powerW, false),
      ];
    }
    case 'jfet-n':
    case 'jfet-p': {
      const { vdsV, powerW } = bias as Extract<PartBias, { vdsV: number }>;
      return [
        volts(part, 'VDS', ratings.VCEO, furthest(swingOf(context, part.ref, 'drain-source', vdsV)), false),
        power(part, context, powerW, false),
      ];
    }
    case 'triode': {
      const { vaV, powerW } = bias as Extract<PartBias, { vaV: number }>;
      return [
        volts(part, 'Va', ratings.VCEO, furthest(swingOf(context, part.ref, 'anode-cathode', vaV)), false),
        power(part, context, powerW, false),
      ];
    }
    case 'opamp': {
      const { network, point } = context.stage;
      const [above, below] = part.rails?.map((node) => nodeVolts(network, point, node)) ?? [0, 0];
      return part.rails === undefined ? [] : [volts(part, 'VS', ratings.VCEO, above! - below!, false)];
    }
  }
}

function biasOf({ ref }: TypedPart, { stage }: FitContext): PartBias | undefined {
  for (const { name } of stage.circuit.channels) {
    const found = deviceBias(stage, name).find((each) => each.ref === ref);
    if (found !== undefined) return found;
  }
  return undefined;
}

type RatingName = 'VCEO' | 'VEBO' | 'IC' | 'IF' | 'VR' | 'VDS' | 'VS' | 'Va';

function volts(part: TypedPart, where: RatingName, times: number, seen: number, asked: boolean): Demand {
  return {
    ...rated(part, where, asked),
    unit: 'V',
    needed: times * Math.abs(seen),
    because: `${times === 1 ? '' : `${times} × the `}${saidVolts(Math.abs(seen))} it sees at most`,
  };
}

function current(part: TypedPart, where: RatingName, times: number, amps: number, asked: boolean): Demand {
  return {
    ...rated(part, where, asked),
    unit: 'A',
    needed: times * Math.abs(amps),
    because: `${times === 1 ? '' : `${times} × the `}${printQuantity(Math.abs(amps), 'A')} it carries`,
  };
}

function rated(part: TypedPart, where: RatingName, asked: boolean): Omit<Demand, 'unit' | 'needed' | 'because'> {
  return {
    where,
    rated: part.type[where],
    asked,
    write: `${where} under types: ${part.typeName}`,
    next: `choose a type with a higher ${where} at ${part.position}`,
  };
}

/** A base-emitter junction that was broken down is spoilt for good, though it still conducts. */
function reverseDemand(part: TypedPart, context: FitContext): readonly Demand[] {
  const { network, point } = context.stage;
  const at = (lead: string): number => nodeVolts(network, point, part.leads[lead] ?? 'gnd');
  const { highest, lowest } = swingOf(context, part.ref, 'base-emitter', at('base') - at('emitter'));
  const reverse = Math.max(0, part.type.kind === 'pnp' ? highest : -lowest);
  const demand = volts(part, 'VEBO', context.ratings.VEBO, reverse, reverse > noReverse);
  return [
    {
      ...demand,
      because:
        reverse > noReverse
          ? `${demand.because}, base and emitter reversed`
          : 'its base and emitter are never reversed',
      next: `discard the part, its noise and gain have suffered; find what reverses base and emitter at ${part.position}`,
    },
  ];
}

/** Nothing is left of Ptot at the highest junction temperature; straight down to there from 25 °C (common practice, no source). */
function power(part: TypedPart, { stage, ratings }: FitContext, watts: number, asked: boolean): Demand {
  const celsius = stage.circuit.ambient - zeroCelsius;
  const left = Math.min(1, Math.max(0, (ratings.junction - celsius) / (ratings.junction - statedAt)));
  const { Ptot } = part.type;
  const warm = left < 1 ? ` at ${printQuantity(celsius, '°C')}` : '';
  return {
    where: 'Ptot',
    unit: 'W',
    needed: ratings.Ptot * Math.abs(watts),
    rated: Ptot === undefined ? undefined : Ptot * left,
    asked,
    because: `${ratings.Ptot === 1 ? '' : `${ratings.Ptot} × the `}${saidWatts(Math.abs(watts))} that it turns into heat${warm}`,
    write: `Ptot under types: ${part.typeName}`,
    next: `choose a type with a higher Ptot at ${part.position}`,
  };
}
