import { nominalFrequencies, targetDb } from '@curvewright/curves';
import { isGain } from '../suspect/measured-curve.ts';
import type { MeasuredChannel } from './measurement.ts';

type Points = MeasuredChannel['points'];

/** Hz of the band in which deviation and balance are told. */
const [bandFrom, bandTo] = [30, 15_000];
/** dB by which a point of a response strays where its file says nothing: common practice, no source. */
const usualSigma = 0.1;

/** The measured point that lies furthest off the curve; signed. */
export function furthestMeasured(points: Points): {
  readonly worstDeviationDb: number | null;
  readonly worstHz: number | null;
} {
  const [worst] = points
    .filter(({ hz, deviationDb }) => deviationDb !== null && hz >= bandFrom && hz <= bandTo)
    .toSorted((a, b) => Math.abs(b.deviationDb ?? 0) - Math.abs(a.deviationDb ?? 0));
  return { worstDeviationDb: worst?.deviationDb ?? null, worstHz: worst?.hz ?? null };
}

/** Of the first two channels, where both gains are known. */
export function balanceOfMeasured([one, other]: readonly MeasuredChannel[]): number | null {
  if (typeof one?.gainDb !== 'number' || typeof other?.gainDb !== 'number') return null;
  const levels = new Map(one.points.map(({ hz, deviationDb }) => [hz, deviationDb]));
  const apart = other.gainDb - one.gainDb;
  const differences = other.points.flatMap(({ hz, deviationDb }) => {
    const level = levels.get(hz);
    if (level === undefined || level === null || deviationDb === null || hz < bandFrom || hz > bandTo) return [];
    return Math.abs(apart + deviationDb - level);
  });
  return differences.length === 0 ? null : Math.max(...differences);
}

/**
 * A response from a file as points: gain, or deviation from the playback curve, told apart by whether it falls from bass to treble; read at the nominal third
 * octaves that it covers, straight over log frequency, and laid through 0 dB at 1 kHz.
 */
export function measuredPoints(response: readonly { readonly hz: number; readonly db: number }[]): Points {
  const sorted = response.toSorted((a, b) => a.hz - b.hz);
  const [first, last] = [sorted[0], sorted.at(-1)];
  if (first === undefined || last === undefined || first.hz > 1000 || last.hz < 1000) return [];
  const taken = isGain(sorted) ? (hz: number): number => targetDb('riaa', hz) : (): number => 0;
  const levelAt = (hz: number): number => {
    const next = Math.max(
      1,
      sorted.findIndex((each) => each.hz >= hz),
    );
    const [below, above] = [sorted[next - 1] ?? first, sorted[next] ?? last];
    const share = above.hz === below.hz ? 0 : Math.log(hz / below.hz) / Math.log(above.hz / below.hz);
    return below.db + share * (above.db - below.db) - taken(hz);
  };
  const inside = nominalFrequencies(first.hz, last.hz).filter((hz) => hz >= 5 && hz <= 100_000);
  const reference = levelAt(1000);
  return inside.map((hz) => ({ hz, deviationDb: levelAt(hz) - reference, sigmaDb: usualSigma }));
}
