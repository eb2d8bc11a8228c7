import { targetDb, type Target } from '@curvewright/curves';
import { frequencySolver, solveResponse } from '@curvewright/network';
import type { Stage } from './stage.ts';

/** Reads gains of a stage at any frequency; every frequency is solved once for all channels and kept. */
export interface GainReader {
  /** dB from the channel's input node to its output node. */
  gainDb(channel: number, hz: number): number;
  /** Degrees in (−180, 180]. */
  phaseDeg(channel: number, hz: number): number;
  /** Gain re 1 kHz minus the target re 1 kHz, dB. */
  deviationDb(channel: number, hz: number): number;
  /** Largest residual of all solves so far over the sizes of their terms. */
  residual(): number;
}

export function gainReader(stage: Stage, target: Target = 'riaa'): GainReader {
  const solved = new Map<number, readonly (readonly [number, number])[]>();
  const frequency = new Float64Array(1);
  const solver = frequencySolver(stage.small);
  let residual = 0;

  function gains(hz: number): readonly (readonly [number, number])[] {
    const known = solved.get(hz);
    if (known) return known;
    frequency[0] = hz;
    const response = solveResponse(stage.small, frequency, solver);
    residual = Math.max(residual, response.residual);
    const pairs = response.gains.map((row, i): readonly [number, number] => [row[i]![0]!, row[i]![1]!]);
    solved.set(hz, pairs);
    return pairs;
  }

  const gainDb = (channel: number, hz: number): number => {
    const [re, im] = gains(hz)[channel]!;
    return 20 * Math.log10(Math.hypot(re, im));
  };
  return {
    gainDb,
    phaseDeg(channel, hz) {
      const [re, im] = gains(hz)[channel]!;
      const degrees = (Math.atan2(im, re) * 180) / Math.PI;
      return degrees <= -180 ? 180 : degrees;
    },
    deviationDb: (channel, hz) => gainDb(channel, hz) - gainDb(channel, 1000) - targetDb(target, hz),
    residual: () => residual,
  };
}
