import { riaaTimes } from '@curvewright/curves';
import { compileNetwork, naturalModes, solveBias, type Root } from '@curvewright/network';
import type { Stage } from '../stage.ts';

/** What a channel's gain has of the curve's time constants, s; null where no single pole or zero stands there. */
export interface TimeConstants {
  /** Poles near 3180 and 75 µs, the zero near 318 µs. */
  readonly T1: number | null;
  readonly T2: number | null;
  readonly T3: number | null;
  /** The lowest zero above 20 kHz, where the treble stops falling; null where there is none. */
  readonly T4: number | null;
}

/** Poles and zeros this close to one another, as a ratio, count together: the two channels' own that crosstalk has tied. */
const together = 1.15;

/** Further from the curve's own, as a ratio, a pole is not meant for it. */
const furthest = 2;

const twoPi = 2 * Math.PI;

/** The stage's poles are those of both channels: what the other channel adds to a channel's gain, one of its zeros takes away again. */
export function timeConstants({ circuit, source }: Stage): readonly TimeConstants[] {
  const network = compileNetwork(circuit, source, { loss: 'series' });
  const bias = solveBias(network);
  const modes = bias.ok ? naturalModes(network, bias.point) : null;
  return circuit.channels.map((_, channel) => {
    const [poles, zeros] = [ratesOf(modes?.poles ?? []), ratesOf(modes?.zeros[channel]?.zeros ?? [])];
    return {
      T1: constantNear(riaaTimes.T1, poles, zeros),
      T2: constantNear(riaaTimes.T2, zeros, poles),
      T3: constantNear(riaaTimes.T3, poles, zeros),
      T4: firstAbove(20_000, zeros, poles),
    };
  });
}

/** 1/s of the real roots in the left half of the plane, ascending: the factors 1 + sT of a curve. */
function ratesOf(roots: readonly Root[]): readonly number[] {
  return roots.flatMap(({ re, im }) => (im === 0 && re < 0 ? [-re] : [])).sort((a, b) => a - b);
}

/** The root of `wanted` nearest to a time constant, with those of `others` that stand beside it taken off. */
function constantNear(seconds: number, wanted: readonly number[], others: readonly number[]): number | null {
  const apart = (rate: number): number => Math.abs(Math.log(rate * seconds));
  const nearest = wanted.toSorted((a, b) => apart(a) - apart(b))[0];
  if (nearest === undefined || apart(nearest) > Math.log(furthest)) return null;
  const rate = clusterAt(nearest, wanted, others);
  return rate === null ? null : 1 / rate;
}

function firstAbove(hz: number, wanted: readonly number[], others: readonly number[]): number | null {
  for (const each of wanted) {
    const rate = each < twoPi * hz ? null : clusterAt(each, wanted, others);
    if (rate !== null) return 1 / rate;
  }
  return null;
}

/** Far from a cluster its roots act as one: their product over that of the others. Null where it has not just one root more than it has others. */
function clusterAt(rate: number, wanted: readonly number[], others: readonly number[]): number | null {
  const isNear = (each: number): boolean => each < rate * together && each > rate / together;
  const [own, against] = [wanted.filter(isNear), others.filter(isNear)];
  if (own.length !== against.length + 1) return null;
  const product = (rates: readonly number[]): number => rates.reduce((result, each) => result * each, 1);
  return product(own) / product(against);
}
