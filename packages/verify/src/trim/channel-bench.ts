import { circuitWithValue, type Limits } from '@curvewright/board';
import { logFrequencies, riaaTimes, targetDb } from '@curvewright/curves';
import { createLiveBoard } from '@curvewright/network';
import { varyStage, type Stage } from '../stage.ts';
import { timeConstants, type TimeConstants } from './time-constants.ts';
import type { Residuals } from './trim-model.ts';

/** What a channel does with certain values. */
export interface TrimFigures {
  /** Furthest from the curve over the deviation limit's band, signed, re 1 kHz. */
  readonly worstDb: number;
  readonly worstHz: number;
  /** At 1 kHz. */
  readonly gainDb: number;
  readonly timesUs: TimeConstants;
}

/** One channel of a stage some of whose values, Ω or F, are written anew, all else as it is. */
export interface ChannelBench {
  /** dB from the curve over the band, re 1 kHz. */
  readonly curveLeft: Residuals;
  /** Fractions by which T1, T2 and T3 are off the curve's. */
  readonly timesLeft: Residuals;
  /** Null without a bias. */
  figures(values: readonly number[]): TrimFigures | null;
}

/** Of an equaliser with smooth corners: between two of twelve to the decade nothing stands out. */
const density = 12;

/** `refs`: the parts whose values are written. Null where the stage is singular at its bias. */
export function channelBench(
  stage: Stage,
  { deviation }: Pick<Limits, 'deviation'>,
  channel: number,
  refs: readonly string[],
): ChannelBench | null {
  const hz = logFrequencies(deviation.from, deviation.to, density);
  const board = createLiveBoard(stage.network, stage.point, Float64Array.from([...hz, 1000]));
  if (board === null) return null;
  const target = hz.map((each) => targetDb('riaa', each));
  const places = refs.map((ref) =>
    board.parameters.findIndex((each) => each.ref === ref && each.parameter === 'value'),
  );
  const nominal = Float64Array.from(board.parameters, (each) => each.nominal);
  const written = nominal.slice();
  const times = rememberedTimes(stage, channel, refs);
  let turn = 0;

  function curve(values: readonly number[]): { readonly deviationDb: Float64Array; readonly gainDb: number } | null {
    written.set(nominal);
    places.forEach((place, k) => (written[place] = values[k]!));
    if (!board!.solve(written, turn++)) return null;
    const gains = board!.gains[channel]!;
    const level = (n: number): number => 10 * Math.log10(gains[2 * n]! ** 2 + gains[2 * n + 1]! ** 2);
    const gainDb = level(hz.length);
    return { deviationDb: hz.map((_, n) => level(n) - gainDb - target[n]!), gainDb };
  }

  return {
    curveLeft: (logs) => curve(logs.map(Math.exp))?.deviationDb ?? null,
    timesLeft(logs) {
      const { T1 = null, T2 = null, T3 = null } = times(logs.map(Math.exp)) ?? {};
      if (T1 === null || T2 === null || T3 === null) return null;
      return Float64Array.of(T1 / riaaTimes.T1 - 1, T2 / riaaTimes.T2 - 1, T3 / riaaTimes.T3 - 1);
    },
    figures(values) {
      const [solved, found] = [curve(values), times(values)];
      if (solved === null || found === null) return null;
      const { deviationDb, gainDb } = solved;
      const at = deviationDb.reduce((worst, db, n) => (Math.abs(db) > Math.abs(deviationDb[worst]!) ? n : worst), 0);
      const us = (seconds: number | null): number | null => (seconds === null ? null : 1e6 * seconds);
      const timesUs = { T1: us(found.T1), T2: us(found.T2), T3: us(found.T3), T4: us(found.T4) };
      return { worstDb: deviationDb[at]!, worstHz: hz[at]!, gainDb, timesUs };
    },
  };
}

/** Poles and zeros take long: the same values are asked for once. Rounding of a logarithm and back aside. */
function rememberedTimes(
  stage: Stage,
  channel: number,
  refs: readonly string[],
): (values: readonly number[]) => TimeConstants | null {
  const known = new Map<string, TimeConstants | null>();
  return (values) => {
    const key = values.map((value) => value.toPrecision(12)).join(' ');
    const before = known.get(key);
    if (before !== undefined) return before;
    const circuit = refs.reduce((result, ref, k) => circuitWithValue(result, ref, values[k]!), stage.circuit);
    const varied = varyStage(stage, circuit);
    const found = varied === null ? null : (timeConstants(varied)[channel] ?? null);
    known.set(key, found);
    return found;
  };
}
