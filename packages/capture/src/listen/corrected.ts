import { targetDb } from '@curvewright/curves';
import type { Reading } from './channel-response.ts';
import { distortionOf, type Distortion } from './harmonic.ts';
import { powerOf } from './gated-reader.ts';
import type { Pair } from './sweep-take.ts';

/** One channel of the board at one frequency; what is null was not measured. */
export interface ListenPoint {
  readonly hz: number;
  /** Null without calibration. */
  readonly gainDb: number | null;
  /** Re 1 kHz, against the RIAA curve, and with the 1976 amendment's bass cut. */
  readonly deviationDb: number | null;
  readonly deviation1976Db: number | null;
  /** Against the curve's own, less the delay that fits best; in (−180, 180]. */
  readonly phaseDeg: number | null;
  /** Of the point itself, as narrow as it is measured. */
  readonly snrDb: number | null;
  readonly thdPercent: number | null;
  readonly distortion: Distortion | null;
}

/**
 * Signal-to-noise in dB from which on a point is measured: noise 30 dB below moves it by 0.2 dB (its standard deviation), well inside the narrowest limit, ±0.5 dB.
 */
export const leastSnrDb = 30;

/** Readings over those of the loop-back, where there is one; both with the delay taken off. */
export function overLoopback(readings: readonly Reading[], loopback: readonly Reading[] | null): readonly Reading[] {
  if (loopback === null) return readings;
  const set = new Map(loopback.map((reading) => [reading.hz, reading]));
  return readings.flatMap((reading): Reading[] => {
    const own = set.get(reading.hz);
    if (own === undefined) return [];
    return [
      {
        ...reading,
        ratio: quotient(reading.ratio, own.ratio),
        phased: reading.phased && own.phased,
        snrDb: together(reading.snrDb, own.snrDb),
      },
    ];
  });
}

/** Points of a channel from its corrected readings; `unityDb` is the gain of a ratio of 1, null without calibration. */
export function listenPoints(readings: readonly Reading[], unityDb: number | null): readonly ListenPoint[] {
  const reference = readings.find(({ hz }) => hz === 1000);
  const referenceDb = reference === undefined || !isMeasured(reference) ? null : decibels(reference.ratio);
  return readings.map((reading) => {
    const { hz, ratio, phased, snrDb, harmonics } = reading;
    const measured = isMeasured(reading);
    const deviationDb = measured && referenceDb !== null ? decibels(ratio) - referenceDb : null;
    const distortion = measured ? distortionOf(harmonics) : null;
    return {
      hz,
      gainDb: measured && unityDb !== null ? unityDb + decibels(ratio) + targetDb('riaa', hz) : null,
      deviationDb,
      deviation1976Db: deviationDb === null ? null : deviationDb + targetDb('riaa', hz) - targetDb('riaa-1976', hz),
      phaseDeg: measured && phased ? degrees(ratio) : null,
      snrDb,
      thdPercent: distortion?.percent ?? null,
      distortion,
    };
  });
}

function isMeasured({ snrDb }: Reading): boolean {
  return snrDb !== null && snrDb >= leastSnrDb;
}

export function decibels(ratio: Pair): number {
  return 10 * Math.log10(powerOf(ratio));
}

function degrees([re, im]: Pair): number {
  const angle = (Math.atan2(im, re) * 180) / Math.PI;
  return angle <= -180 ? 180 : angle;
}

function quotient([re, im]: Pair, [a, b]: Pair): Pair {
  const power = a * a + b * b;
  return [(re * a + im * b) / power, (im * a - re * b) / power];
}

function together(a: number | null, b: number | null): number | null {
  return a === null || b === null ? null : -10 * Math.log10(10 ** (-a / 10) + 10 ** (-b / 10));
}
