import type { JfetType } from '@curvewright/board';
import type { Device, NoiseSource } from './device.ts';
import { holdStep, junction, junctionCurrent, junctionSlope } from './junction.ts';
import { boltzmann, logSaturationRise, shotDensity, thermalVoltage } from './physics.ts';

/** A at 25 °C; each of the two gate junctions of a small JFET, from memory. */
const gateSaturation = 1e-14;

/**
 * A junction FET, leads drain, gate, source; controls gate−source and gate−drain in true sign. Shockley's square law (Proc. IRE 1952; Sedra &
 * Smith; from memory), in the n-channel's sign, with a = max(vgs + VP, 0), b = max(vgd + VP, 0):
 *   ID = IDSS/VP² · (a² − b²) · (1 + λ|vds|), λ = yos/IDSS
 * which is the ohmic region where both ends of the channel conduct, changes its sign when drain and source are exchanged, and has continuous
 * slopes. IDSS is the saturated current extrapolated to vds = 0; it and VP do not move with temperature. Both gate junctions conduct.
 */
export function jfet(type: JfetType, kelvin: number): Device {
  const sign = type.kind === 'jfet-n' ? 1 : -1;
  const pinchOff = type.pinchOff;
  const beta = type.IDSS / pinchOff ** 2;
  const lambda = (type.yos ?? 0) / type.IDSS;
  const gate = junction(Math.log(gateSaturation) + logSaturationRise(kelvin), thermalVoltage(kelvin));
  const cgd = type.Crss ?? 0;
  const cgs = (type.Ciss ?? cgd) - cgd;

  function evaluate(controls: Float64Array, currents: Float64Array, slopes: Float64Array): void {
    const vgs = sign * controls[0]!;
    const vgd = sign * controls[1]!;
    const a = Math.max(vgs + pinchOff, 0);
    const b = Math.max(vgd + pinchOff, 0);
    const vds = vgs - vgd;
    const square = beta * (a * a - b * b);
    const lengthening = 1 + lambda * Math.abs(vds);
    const lengtheningSlope = lambda * Math.sign(vds);
    const toSource = junctionCurrent(gate, vgs);
    const toSourceSlope = junctionSlope(gate, vgs, toSource);
    const toDrain = junctionCurrent(gate, vgd);
    const toDrainSlope = junctionSlope(gate, vgd, toDrain);

    const channel = square * lengthening;
    currents[0] = sign * (channel - toDrain);
    currents[1] = sign * (toSource + toDrain);
    currents[2] = -sign * (channel + toSource);

    const channelByVgs = 2 * beta * a * lengthening + square * lengtheningSlope;
    const channelByVgd = -2 * beta * b * lengthening - square * lengtheningSlope;
    slopes[0] = channelByVgs;
    slopes[1] = channelByVgd - toDrainSlope;
    slopes[2] = toSourceSlope;
    slopes[3] = toDrainSlope;
    slopes[4] = -(channelByVgs + toSourceSlope);
    slopes[5] = -channelByVgd;
  }

  function store(controls: Float64Array, charges: Float64Array, slopes: Float64Array): void {
    const atSource = cgs * controls[0]!;
    const atDrain = cgd * controls[1]!;
    charges[0] = -atDrain;
    charges[1] = atSource + atDrain;
    charges[2] = -atSource;
    slopes[0] = 0;
    slopes[1] = -cgd;
    slopes[2] = cgs;
    slopes[3] = cgd;
    slopes[4] = -cgs;
    slopes[5] = 0;
  }

  /** Into conduction by half the pinch-off voltage at a time: from cut-off, where the slope is zero, a Newton step knows no measure. */
  function hold(proposed: number, previous: number): number {
    return Math.min(holdStep(gate, proposed, previous), Math.max(previous, -pinchOff) + pinchOff / 2);
  }

  function limit(proposed: Float64Array, previous: Float64Array): boolean {
    let changed = false;
    for (let k = 0; k < 2; k += 1) {
      const wished = sign * proposed[k]!;
      const held = hold(wished, sign * previous[k]!);
      proposed[k] = sign * held;
      changed ||= held !== wished;
    }
    return changed;
  }

  /**
   * Channel noise 4kT·γ·g0, g0 = 2·IDSS/VP²·a the channel's conductance at vds = 0 (equal to gm in saturation), γ = ⅔(1 + η + η²)/(1 + η) with
   * η = b/a: 2/3 in saturation, 1 at vds = 0 (van der Ziel, Noise, 1970; from memory). A stated en stands for all of it.
   */
  function channelNoise(controls: Float64Array): NoiseSource {
    if (type.en !== undefined) {
      const density = type.en ** 2;
      return { name: 'channel', quantity: 'voltage', between: [1, 2], density, corner: type.enCorner ?? 0 };
    }
    const ends = [0, 1].map((k) => Math.max(sign * controls[k]! + pinchOff, 0));
    const wide = Math.max(...ends);
    const eta = wide > 0 ? Math.min(...ends) / wide : 0;
    const gamma = ((2 / 3) * (1 + eta + eta ** 2)) / (1 + eta);
    const density = 4 * boltzmann * kelvin * gamma * 2 * beta * wide;
    return { name: 'channel', quantity: 'current', between: [0, 2], density, corner: 0 };
  }

  return {
    leads: ['drain', 'gate', 'source'],
    controls: [
      [1, 2],
      [1, 0],
    ],
    evaluate,
    store,
    limit,
    start: [(-sign * pinchOff) / 2, -sign * pinchOff * 2.5],
    noise(controls) {
      const density = [0, 1].reduce((sum, k) => sum + shotDensity(junctionCurrent(gate, sign * controls[k]!)), 0);
      return [
        channelNoise(controls),
        { name: 'shot of the gate', quantity: 'current', between: [1, 2], density, corner: 0 },
      ];
    },
  };
}
