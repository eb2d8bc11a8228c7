import { logFrequencies, riaaTimes } from '@curvewright/curves';
import { nearestPreferred, preferredAbove, preferredBelow, preferredValues, type Series } from '@curvewright/quantity';
import { adapterDb, adapterErrorDb, type Adapter, type Surroundings } from './adapter.ts';

export interface AdapterWishes extends Surroundings {
  readonly shaping: Adapter['shaping'];
  /** At 1 kHz, dB above 0. */
  readonly attenuationDb: number;
  /** Preferred values of the resistors; capacitors are of E12. */
  readonly series: Series;
}

/** The resistor across the input is a few hundred ohms: 47 kΩ hardly loads it, and its own hiss stays below a cartridge's. */
const leastAcross = 220;
/** dB from 20 Hz to 20 kHz: what is worse does not deserve the name. */
const worstWorthBuilding = 1;
/** How far the attenuation may lie off for the sake of the curve; a level is set in the signal anyway. */
const attenuationPlayDb = 1;

/** A second part is not worth a thousandth of the first. */
const worthMending = 1e-3;
/** Below this the strays of the wiring, some pF, would count. */
const leastCapacitor = 47e-12;
/** The treble section may run a little long, which holds up the fall of T4 below 20 kHz. */
const trebleTrims = [0.99, 0.995, 1, 1.005, 1.01, 1.02] as const;

const band = logFrequencies(20, 20_000, 8);

/** The largest error from 20 Hz to 20 kHz, dB, signed. */
export function worstAdapterError(
  adapter: Adapter,
  surroundings: Surroundings,
): { readonly hz: number; readonly db: number } {
  const errors = Array.from(band, (hz) => ({ hz, db: adapterErrorDb(adapter, surroundings, hz) }));
  return errors.reduce((worst, each) => (Math.abs(each.db) > Math.abs(worst.db) ? each : worst));
}

/**
 * The adapter of preferred values that is nearest to the wish: in its level where it is flat, in its curve where it is not. Null where none comes near
 * the attenuation and the curve.
 */
export function designAdapter(wishes: AdapterWishes): Adapter | null {
  const candidates = acrossValues(wishes.series).flatMap((across) =>
    wishes.shaping === 'flat' ? flatWith(across, wishes) : shapedWith(across, wishes),
  );
  const costs = candidates.map((adapter) => ({ adapter, cost: costOf(adapter, wishes) }));
  return costs.reduce<{ adapter: Adapter | null; cost: number }>(
    (best, each) => (each.cost < best.cost ? each : best),
    {
      adapter: null,
      cost: Infinity,
    },
  ).adapter;
}

function costOf(adapter: Adapter, wishes: AdapterWishes): number {
  const off = Math.abs(adapterDb(adapter, wishes, 1000) + wishes.attenuationDb);
  if (off > attenuationPlayDb) return Infinity;
  if (adapter.shaping === 'flat') return off;
  const error = Math.abs(worstAdapterError(adapter, wishes).db);
  return error > worstWorthBuilding ? Infinity : error;
}

function acrossValues(series: Series): readonly number[] {
  const decade = preferredValues('E12').map((value) => value * 10);
  return [...decade, 1000].filter((ohms) => ohms >= leastAcross).map((ohms) => nearestPreferred(ohms, series));
}

function flatWith(across: number, { attenuationDb, generator, load, series }: AdapterWishes): readonly Adapter[] {
  const parallel = 1 / (1 / across + 1 / load);
  const wanted = parallel * (10 ** (attenuationDb / 20) - 1) - generator;
  return wanted > 0 ? [{ shaping: 'flat', series: nearestPreferred(wanted, series), across }] : [];
}

/**
 * With a resistance Rt in the same loop (generator and what is across), the impedance that makes the loop's R0·(1 + sT2)(1 + sT4)/((1 + sT1)(1 + sT3)) is
 * Rt + R1/(1 + sT1) + R2/(1 + sT3), T4 = Rt·T1·T3/(R0·T2): the curve is exact but for T4, which lies far above 20 kHz. R1 and R2 by partial fractions.
 */
function exactSections(across: number, { attenuationDb, generator, load }: AdapterWishes): { R1: number; R2: number } {
  const { T1, T2, T3 } = riaaTimes;
  const parallel = 1 / (1 / across + 1 / load);
  const w = 2 * Math.PI * 1000;
  const at1kHz = Math.hypot(1, w * T2) / (Math.hypot(1, w * T1) * Math.hypot(1, w * T3));
  const R0 = (parallel * 10 ** (attenuationDb / 20)) / at1kHz;
  const T4 = ((generator + parallel) * T1 * T3) / (R0 * T2);
  return {
    R1: (R0 * (1 - T2 / T1) * (1 - T4 / T1)) / (1 - T3 / T1),
    R2: (R0 * (1 - T2 / T3) * (1 - T4 / T3)) / (1 - T1 / T3),
  };
}

/** Capacitors come in few values, and decide; resistors make up what is left. */
function shapedWith(across: number, wishes: AdapterWishes): readonly Adapter[] {
  const { T1, T3 } = riaaTimes;
  const { R1, R2 } = exactSections(across, wishes);
  if (!(R1 > 0 && R2 > 0)) return [];
  return capacitorsNear(T1 / R1).flatMap((C1) => {
    const bass = { resistors: pairOf(T1 / C1, wishes.series), capacitors: [C1] };
    // The treble section follows the bass section that was found, so that the step between them is kept.
    const C2 = (T3 / R2) * (C1 / (T1 / R1));
    const choices = [[nearestPreferred(C2, 'E12')], pairOf(C2, 'E12'), pairBelow(C2, 'E12')];
    const buildable = choices.filter((capacitors) => Math.min(...capacitors) >= leastCapacitor);
    return buildable.flatMap((capacitors) =>
      trebleTrims.map((trim): Adapter => {
        const ohms = (trim * T3) / capacitors.reduce((total, each) => total + each, 0);
        return {
          shaping: 'inverse_riaa',
          bass,
          treble: { resistors: pairOf(ohms, wishes.series), capacitors },
          across,
        };
      }),
    );
  });
}

/** Two values of E12 on either side. */
function capacitorsNear(farads: number): readonly number[] {
  const [below, above] = [preferredBelow(farads, 'E12'), preferredAbove(farads, 'E12')];
  // Past the value that was found, by less than a step of the series.
  return [preferredBelow(below * 0.99, 'E12'), below, above, preferredAbove(above * 1.01, 'E12')];
}

/** One preferred value, or two that add up to more nearly what is wanted. */
function pairOf(wanted: number, series: Series): readonly number[] {
  const nearest = nearestPreferred(wanted, series);
  if (Math.abs(nearest / wanted - 1) < worthMending) return [nearest];
  const below = preferredBelow(wanted, series);
  return [below, nearestPreferred(wanted - below, series)];
}

/** The same from one value further down, whose complement is larger and in fewer decades. */
function pairBelow(wanted: number, series: Series): readonly number[] {
  const below = preferredBelow(preferredBelow(wanted, series) * 0.99, series);
  return [below, nearestPreferred(wanted - below, series)];
}
