import type { OpAmpType } from '@curvewright/board';

/** V; half the width of the rounded corner where the output meets a limit. Between the corners nothing is bent. */
export const cornerWidth = 5e-3;

/** What the circuit equations need of an op-amp; silent figures are ideal. */
export interface OpAmp {
  /** 1/A0; 0: infinite gain. */
  readonly inverseGain: number;
  /** 1/(2π·GBW) in s; 0: no roll-off. */
  readonly inverseGbw: number;
  /** Ω. */
  readonly Rout: number;
  /** V the output stays below the positive and above the negative supply node. */
  readonly above: number;
  readonly below: number;
  /** V in series with the plus input for each V of either supply; 0: none. */
  readonly inversePsrr: number;
  /** V²/Hz in series with the plus input; 1/f corner in Hz. */
  readonly voltageNoise: { readonly density: number; readonly corner: number };
  /** A²/Hz from each input to common, not correlated; 1/f corner in Hz. */
  readonly currentNoise: { readonly density: number; readonly corner: number };
}

/** An op-amp's figures; the noise model is that of Motchenbacher & Fitchen, Low-Noise Electronic Design (from memory). */
export function opAmp(type: OpAmpType): OpAmp {
  return {
    inverseGain: type.gain === undefined ? 0 : 1 / type.gain,
    inverseGbw: type.GBW === undefined ? 0 : 1 / (2 * Math.PI * type.GBW),
    Rout: type.Rout ?? 0,
    above: type.swing?.above ?? 0,
    below: type.swing?.below ?? 0,
    inversePsrr: type.PSRR === undefined ? 0 : 1 / type.PSRR,
    voltageNoise: { density: (type.en ?? 0) ** 2, corner: type.enCorner ?? 0 },
    currentNoise: { density: (type.in ?? 0) ** 2, corner: type.inCorner ?? 0 },
  };
}

/**
 * The output voltage (V) an op-amp can make of the wished `z` (V) between the limits `low` and `high` (V): z itself inside, the limit
 * outside, joined by a parabola over ±cornerWidth about each limit, so that the slopes are continuous. Crossed limits give `low`.
 * `out` (length 4) receives the voltage and its derivatives with respect to z, low and high.
 */
export function saturate(z: number, low: number, high: number, out: Float64Array): void {
  const fromTop = cornerShare(z - high);
  const topped = fromTop < 1 ? z - cornerWidth * fromTop ** 2 : high;
  const fromBottom = cornerShare(low - topped);
  out[0] = fromBottom < 1 ? topped + cornerWidth * fromBottom ** 2 : low;
  out[1] = (1 - fromTop) * (1 - fromBottom);
  out[2] = fromBottom;
  out[3] = fromTop * (1 - fromBottom);
}

/**
 * The output voltage (V) an op-amp between its supply nodes at `negative` and `positive` (V) can make of the wished `z`. Where the supplies
 * are closer than its limits leave room for, as while they rise, it stands in their middle. `out` (length 4) receives the voltage and its
 * derivatives with respect to z, negative and positive.
 */
export function reach(model: OpAmp, z: number, negative: number, positive: number, out: Float64Array): void {
  const middle = (negative + positive) / 2;
  const low = Math.min(negative + model.below, middle);
  const high = Math.max(positive - model.above, middle);
  saturate(z, low, high, out);
  const dLow = out[2]!;
  const dHigh = out[3]!;
  const lowShare = low === middle ? 0.5 : 0;
  const highShare = high === middle ? 0.5 : 0;
  out[2] = dLow * (1 - lowShare) + dHigh * highShare;
  out[3] = dLow * lowShare + dHigh * (1 - highShare);
}

/** How far through the corner a voltage is that lies `beyond` its limit: 0 before, 1 after. */
function cornerShare(beyond: number): number {
  return Math.min(Math.max((beyond + cornerWidth) / (2 * cornerWidth), 0), 1);
}
