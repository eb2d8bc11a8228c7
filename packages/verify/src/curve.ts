import { targetDb, type Target } from '@curvewright/curves';
import { gainReader } from './gain-reader.ts';
import type { Stage } from './stage.ts';

/** Gain against the target at chosen frequencies. */
export interface CurveAnswer {
  readonly target: Target;
  readonly channels: readonly { readonly name: string; readonly points: readonly CurvePoint[] }[];
}

export interface CurvePoint {
  readonly hz: number;
  readonly gainDb: number;
  /** In (−180, 180]. */
  readonly phaseDeg: number;
  /** 0 dB at 1 kHz, as deviationDb is. */
  readonly targetDb: number;
  readonly deviationDb: number;
}

export function curveAnswer(stage: Stage, target: Target, frequencies: readonly number[]): CurveAnswer {
  const reader = gainReader(stage, target);
  return {
    target,
    channels: stage.circuit.channels.map(({ name }, i) => ({
      name,
      points: frequencies.map((hz) => ({
        hz,
        gainDb: reader.gainDb(i, hz),
        phaseDeg: reader.phaseDeg(i, hz),
        targetDb: targetDb(target, hz),
        deviationDb: reader.deviationDb(i, hz),
      })),
    })),
  };
}
