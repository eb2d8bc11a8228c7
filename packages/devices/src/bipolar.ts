import type { BipolarType } from '@curvewright/board';
import {
  baseEmitterCapacitance,
  baseEmitterCharge,
  baseEmitterCoulombs,
  type BaseEmitterCharge,
} from './bipolar-charge.ts';
import { collectorLeakage, leakageCurrent, leakageNoise, leakageSlope } from './collector-leakage.ts';
import { gainAt, gainCurve, gainExponent, type GainCurve } from './current-gain.ts';
import type { Device, NoiseSource } from './device.ts';
import { holdStep, junction, junctionCurrent, junctionSlope, logSaturationThrough, type Junction } from './junction.ts';
import { datasheetKelvin, logSaturationRise, shotDensity, thermalVoltage } from './physics.ts';

/** Common order of magnitude for small-signal transistors used the wrong way round; from memory. */
const reverseGain = 5;

/** Base-emitter breakdown over the rated VEBO, and the current at which it is quoted; from memory. */
const breakdownOverRating = 1.4;
const breakdownAmps = 10e-6;

/** Fraction of the Early voltage left, below which the factor 1 − vbc/VA bends into an exponential and stays positive. */
const earlyBend = 0.5;

/**
 * A bipolar transistor, leads collector, base, emitter; controls base−emitter and base−collector in true sign. Transport form of the
 * Ebers–Moll equations with the Early effect (Getreu, Modeling the Bipolar Transistor; Gray & Meyer; from memory), in the npn's sign:
 *   If = Is(e^{vbe/VT} − 1), Ir = Is(e^{vbc/VT} − 1)
 *   IC = (If − Ir)(1 − vbc/VA) − Ir/5 + leakage,  IB = If/hFE(If) + Ir/5 − breakdown − leakage
 * Is comes from VBE at vbc = 0. hFE, VA and the breakdown do not move with temperature. The base's ohmic resistance lies outside.
 */
export function bipolar(type: BipolarType, kelvin: number): Device {
  return bipolarOfGain(type, kelvin)(1);
}

/** The same transistor at any gain: its whole hFE curve times a factor, all else as the type says. */
export function bipolarOfGain(type: BipolarType, kelvin: number): (factor: number) => Device {
  const vt = thermalVoltage(kelvin);
  const logSaturation = logSaturationThrough(type.VBE.value, type.VBE.at, thermalVoltage(datasheetKelvin));
  const sign = type.kind === 'npn' ? 1 : -1;
  const physics: Physics = {
    type,
    gain: gainCurve(type.hFE),
    start: [sign * type.VBE.value, -sign],
    sign,
    forward: junction(logSaturation + logSaturationRise(kelvin), vt),
    breakdown: baseEmitterBreakdown(type, vt),
    leakage: collectorLeakage(type.ICBO ?? 0, kelvin),
    early: type.earlyVoltage ?? Infinity,
    stored: baseEmitterCharge(type),
    cob: type.Cob ?? 0,
  };
  return (factor) => new BipolarTransistor(physics, factor);
}

/** All that does not move with the gain. */
interface Physics {
  readonly type: BipolarType;
  readonly gain: GainCurve;
  readonly start: Device['start'];
  readonly sign: number;
  readonly forward: Junction;
  readonly breakdown: Junction | null;
  readonly leakage: ReturnType<typeof collectorLeakage>;
  readonly early: number;
  readonly stored: BaseEmitterCharge;
  readonly cob: number;
}

const leads = ['collector', 'base', 'emitter'] as const;
const controls: Device['controls'] = [
  [1, 2],
  [1, 0],
];

/** A class, so that thousands of them with gains of their own share one set of functions. */
class BipolarTransistor implements Device {
  readonly leads: Device['leads'] = leads;
  readonly controls: Device['controls'] = controls;
  readonly start: Device['start'];
  readonly #physics: Physics;
  readonly #gainFactor: number;

  constructor(physics: Physics, gainFactor: number) {
    this.start = physics.start;
    this.#physics = physics;
    this.#gainFactor = gainFactor;
  }

  evaluate(controls: Float64Array, currents: Float64Array, slopes: Float64Array): void {
    const { sign, forward, breakdown, leakage, early, gain } = this.#physics;
    const vbe = sign * controls[0]!;
    const vbc = sign * controls[1]!;
    const ahead = junctionCurrent(forward, vbe);
    const aheadSlope = junctionSlope(forward, vbe, ahead);
    const back = junctionCurrent(forward, vbc);
    const backSlope = junctionSlope(forward, vbc, back);
    const widening = earlyFactor(-vbc / early);
    const wideningSlope = -earlyFactorSlope(-vbc / early) / early;
    const hfe = gainAt(gain, ahead) * this.#gainFactor;
    const avalanche = breakdown ? junctionCurrent(breakdown, -vbe) : 0;
    const avalancheSlope = breakdown ? junctionSlope(breakdown, -vbe, avalanche) : 0;

    const leaking = leakageCurrent(leakage, -vbc);
    const leakingSlope = leakageSlope(leakage, -vbc);

    const collector = (ahead - back) * widening - back / reverseGain + leaking;
    const base = ahead / hfe + back / reverseGain - avalanche - leaking;
    currents[0] = sign * collector;
    currents[1] = sign * base;
    currents[2] = -sign * (collector + base);

    const collectorByVbe = aheadSlope * widening;
    const collectorByVbc =
      -backSlope * widening + (ahead - back) * wideningSlope - backSlope / reverseGain - leakingSlope;
    const baseByVbe = (aheadSlope / hfe) * (1 - gainExponent(gain, ahead)) + avalancheSlope;
    const baseByVbc = backSlope / reverseGain + leakingSlope;
    slopes[0] = collectorByVbe;
    slopes[1] = collectorByVbc;
    slopes[2] = baseByVbe;
    slopes[3] = baseByVbc;
    slopes[4] = -(collectorByVbe + baseByVbe);
    slopes[5] = -(collectorByVbc + baseByVbc);
  }

  store(controls: Float64Array, charges: Float64Array, slopes: Float64Array): void {
    const { sign, forward, stored, cob } = this.#physics;
    const vbe = sign * controls[0]!;
    const atEmitter = baseEmitterCoulombs(stored, forward, vbe);
    const atCollector = cob * sign * controls[1]!;
    charges[0] = -sign * atCollector;
    charges[1] = sign * (atEmitter + atCollector);
    charges[2] = -sign * atEmitter;
    const cpi = baseEmitterCapacitance(stored, forward, vbe);
    slopes[0] = 0;
    slopes[1] = -cob;
    slopes[2] = cpi;
    slopes[3] = cob;
    slopes[4] = -cpi;
    slopes[5] = 0;
  }

  limit(proposed: Float64Array, previous: Float64Array): boolean {
    const { sign, forward, breakdown } = this.#physics;
    const wishedVbe = sign * proposed[0]!;
    const wishedVbc = sign * proposed[1]!;
    const lastVbe = sign * previous[0]!;
    let vbe = holdStep(forward, wishedVbe, lastVbe);
    if (breakdown) vbe = -holdStep(breakdown, -vbe, -lastVbe);
    const vbc = holdStep(forward, wishedVbc, sign * previous[1]!);
    proposed[0] = sign * vbe;
    proposed[1] = sign * vbc;
    return vbe !== wishedVbe || vbc !== wishedVbc;
  }

  noise(controls: Float64Array): readonly NoiseSource[] {
    const { sign, type, leakage } = this.#physics;
    const currents = new Float64Array(3);
    this.evaluate(controls, currents, new Float64Array(6));
    // The leakage crosses from collector to base on its own; what crosses the other junctions is the rest.
    const leaking = sign * leakageCurrent(leakage, -sign * controls[1]!);
    return [
      {
        name: 'shot of the collector',
        quantity: 'current',
        between: [0, 2],
        density: shotDensity(currents[0]! - leaking),
        corner: 0,
      },
      {
        name: 'shot of the base',
        quantity: 'current',
        between: [1, 2],
        density: shotDensity(currents[1]! + leaking),
        corner: type.noiseCorner ?? 0,
      },
      ...(type.ICBO === undefined
        ? []
        : [
            {
              name: 'shot of the leakage',
              quantity: 'current' as const,
              between: [0, 1] as const,
              density: leakageNoise(leakage),
              corner: 0,
            },
          ]),
    ];
  }
}

/** The reverse base-emitter junction as steep as kT/q; none where VEBO is silent. */
function baseEmitterBreakdown(type: BipolarType, vt: number): Junction | null {
  if (type.VEBO === undefined) return null;
  return junction(logSaturationThrough(breakdownOverRating * type.VEBO, breakdownAmps, vt), vt);
}

/** 1 + u for u = −vbc/VA down to −0.5, then an exponential of equal value and slope: positive everywhere. */
function earlyFactor(u: number): number {
  return u >= -earlyBend ? 1 + u : (1 - earlyBend) * Math.exp((u + earlyBend) / (1 - earlyBend));
}

function earlyFactorSlope(u: number): number {
  return u >= -earlyBend ? 1 : Math.exp((u + earlyBend) / (1 - earlyBend));
}
