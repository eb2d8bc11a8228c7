import type { Limits } from '@curvewright/board';
import { targetDb } from '@curvewright/curves';
import { createLiveBoard } from '@curvewright/network';
import { curveFrequencies } from './curve-frequencies.ts';
import type { Stage } from './stage.ts';

/** A stage whose values are moved by hand: bias and response solved anew at each move, in storage made once. */
export interface LiveStage {
  /** Positions that have a value to move, in Ω, F or H, with the value they have. */
  readonly nominals: ReadonlyMap<string, number>;
  /** What the stage does with another value in these positions, all else as it is; null where it has no bias then. */
  move(refs: readonly string[], value: number): MovedCurves | null;
}

/** Lists in the order of the channels. */
export interface MovedCurves {
  /** Over `curveFrequencies`, dB. */
  readonly deviationDb: readonly Float64Array[];
  /** At 1 kHz. */
  readonly gainDb: readonly number[];
  /** Deviation. */
  readonly at20HzDb: readonly number[];
  /** Furthest from 0 in the deviation limit's band, signed. */
  readonly worstDb: readonly number[];
  /** Largest level difference between the channels in the balance limit's band, a magnitude; null for one channel. */
  readonly balanceDb: number | null;
}

/** Null where the stage is singular at its bias. */
export function liveStage({ network, point }: Stage, limits: Limits): LiveStage | null {
  const hz = curveFrequencies(limits);
  const live = createLiveBoard(network, point, hz);
  if (live === null) return null;
  const { gains } = live;
  const target = hz.map((each) => targetDb('riaa', each));
  const [at20, at1k] = [hz.indexOf(20), hz.indexOf(1000)];
  const deviationBand = [hz.indexOf(limits.deviation.from), hz.indexOf(limits.deviation.to)] as const;
  const balanceBand = [hz.indexOf(limits.balance.from), hz.indexOf(limits.balance.to)] as const;
  const levels = gains.map(() => new Float64Array(hz.length));
  const nominal = Float64Array.from(live.parameters, (each) => each.nominal);
  const places = new Map(
    live.parameters.flatMap(({ ref, parameter }, n) => (parameter === 'value' ? [[ref, n] as const] : [])),
  );
  const values = new Float64Array(nominal.length);
  let moves = 0;

  function readLevels(): void {
    gains.forEach((pairs, c) => {
      const level = levels[c]!;
      for (let i = 0; i < level.length; i++) level[i] = 10 * Math.log10(pairs[2 * i]! ** 2 + pairs[2 * i + 1]! ** 2);
    });
  }

  function worstDifference(): number | null {
    const [first, ...others] = levels;
    if (first === undefined || others.length === 0) return null;
    const worst = others.map((other) =>
      furthest(
        first.map((level, i) => level - other[i]!),
        balanceBand,
      ),
    );
    return Math.max(...worst.map(Math.abs));
  }

  return {
    nominals: new Map([...places].map(([ref, n]) => [ref, nominal[n]!])),
    move(refs, value) {
      values.set(nominal);
      for (const ref of refs) {
        const place = places.get(ref);
        if (place === undefined) throw new RangeError(`${ref} has no value to move`);
        values[place] = value;
      }
      if (!live.solve(values, moves++)) return null;
      readLevels();
      const deviationDb = levels.map((level) => level.map((db, i) => db - level[at1k]! - target[i]!));
      return {
        deviationDb,
        gainDb: levels.map((level) => level[at1k]!),
        at20HzDb: deviationDb.map((curve) => curve[at20]!),
        worstDb: deviationDb.map((curve) => furthest(curve, deviationBand)),
        balanceDb: worstDifference(),
      };
    },
  };
}

/** On a grid this fine a peak between two points is as good as on one of them. */
function furthest(curve: Float64Array, [from, to]: readonly [number, number]): number {
  let worst = 0;
  for (let i = from; i <= to; i++) if (Math.abs(curve[i]!) > Math.abs(worst)) worst = curve[i]!;
  return worst;
}
