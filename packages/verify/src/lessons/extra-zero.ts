import { targetDb } from '@curvewright/curves';
import type { Probe } from '../figure.ts';
import { deviationCurve, taught, taughtParts, withoutPart, type LessonBench } from './lesson-bench.ts';

/** What happens above the band on a stage that cannot amplify less than once. */
export interface ZeroLesson {
  /** At 1 kHz. */
  readonly gainDb: number;
  /** Where the RIAA curve asks for a gain of one. */
  readonly unityHz: number;
  /** What a gain that never falls below one does at 100 kHz, dB off the curve. */
  readonly textbookDb: number;
  /** The capacitor that takes it back; null where the board leaves it as it is. */
  readonly ref: string | null;
  /** Over `lessonHz`, and at 100 kHz: without that capacitor, and the board as drawn. */
  readonly bareDb: Float64Array;
  readonly drawnDb: Float64Array;
  readonly bareAt100kDb: number;
  readonly drawnAt100kDb: number;
  readonly drawnAt20kDb: number;
}

const highestHz = 100_000;

/** dB above the band that such a capacitor takes back at least, and that it may cost at 20 kHz at most. */
const taken = { above: 0.8, inBand: 0.5 };

/** dB above the curve from which a board shows the zero at all. */
const shown = 0.5;

/** Null where nothing of it is seen up to 100 kHz: a stage without feedback to its input, or one too slow to show it. */
export function zeroLesson(bench: LessonBench): ZeroLesson | null {
  const { reader } = bench;
  const remedy = compensation(bench);
  const bare = remedy?.without ?? bench;
  const bareAt100kDb = bare.reader.deviationDb(taught, highestHz);
  if (bareAt100kDb < shown) return null;
  const gainDb = reader.gainDb(taught, 1000);
  const unityHz = unityFrequency(gainDb);
  return {
    ...{ gainDb, unityHz, ref: remedy?.ref ?? null },
    textbookDb: 10 * Math.log10(1 + (highestHz / unityHz) ** 2),
    bareDb: deviationCurve(bare),
    drawnDb: deviationCurve(bench),
    bareAt100kDb,
    drawnAt100kDb: reader.deviationDb(taught, highestHz),
    drawnAt20kDb: reader.deviationDb(taught, 20_000),
  };
}

/** The capacitor without which the board stands higher above the band, and the same in it. */
function compensation(bench: LessonBench): { readonly ref: string; readonly without: Probe } | null {
  const change = (other: Probe, hz: number): number =>
    other.reader.deviationDb(taught, hz) - bench.reader.deviationDb(taught, hz);
  const found = taughtParts(bench).flatMap((part) => {
    const without = part.kind === 'capacitor' ? withoutPart(bench, part.ref) : null;
    if (without === null || Math.abs(change(without, 20_000)) > taken.inBand) return [];
    const above = change(without, highestHz);
    return above >= taken.above ? [{ ref: part.ref, without, above }] : [];
  });
  return found.toSorted((a, b) => b.above - a.above)[0] ?? null;
}

/** Bisection: the curve falls all the way. */
function unityFrequency(gainDb: number): number {
  let [low, high] = [1000, 1e9];
  while (high / low > 1 + 1e-9) {
    const middle = Math.sqrt(low * high);
    if (gainDb + targetDb('riaa', middle) > 0) low = middle;
    else high = middle;
  }
  return Math.sqrt(low * high);
}
