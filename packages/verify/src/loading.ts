import { logFrequencies, nominalFrequencies } from '@curvewright/curves';
import { inputAdmittance, type Source } from '@curvewright/network';
import { highestPoint } from './search-curve.ts';
import type { Stage } from './stage.ts';

/** What the cartridge sees, and what that makes of its response. */
export interface LoadingAnswer {
  /** The cartridge that `response` is of; null where the board has none. */
  readonly cartridge: NamedCartridge | null;
  /** Where the equivalent capacitance is read, Hz. */
  readonly capacitanceHz: number;
  readonly channels: readonly ChannelLoading[];
}

export interface NamedCartridge extends Source {
  readonly name: string;
}

export interface ChannelLoading {
  readonly name: string;
  /** The board's input impedance: magnitude in Ω and phase in degrees. */
  readonly points: readonly { readonly hz: number; readonly ohms: number; readonly phaseDeg: number }[];
  /** At 1 kHz, as a resistance across the input: 1 / Re Y. */
  readonly inputOhms: number;
  /** Im Y / ω at `capacitanceHz`, Miller effect included, cable not. */
  readonly capacitanceF: number;
  /** From the cartridge's EMF to the input node, dB, and the same re 1 kHz; empty without a cartridge. */
  readonly response: readonly { readonly hz: number; readonly db: number; readonly relativeDb: number }[];
  /** Null without a cartridge. */
  readonly resonance: Resonance | null;
  /** Impedance and response re 1 kHz on a fine grid, for figures; without a cartridge `relativeDb` is empty. */
  readonly curve: {
    readonly hz: readonly number[];
    readonly ohms: readonly number[];
    readonly relativeDb: readonly number[];
  };
}

export interface Resonance {
  /** Where the input node lags the EMF by 90°; null where that is not below 100 kHz. */
  readonly hz: number | null;
  /** The highest point re 1 kHz above 1 kHz, and where; 0 dB at 1 kHz where the response only falls. */
  readonly peakHz: number;
  readonly peakDb: number;
}

/** High enough that an input coupling capacitor no longer shows as a capacitance, near where cartridges resonate. */
const capacitanceHz = 10_000;

const highestHz = 100_000;
const frequencies = nominalFrequencies(20, highestHz);

/** Thirty points a decade: a resonance of Q 5 is round. */
const fineFrequencies: readonly number[] = Array.from(logFrequencies(20, highestHz, 30));

/** `stage` is one with its inputs shorted: the cartridge is put before what the board shows there. */
export function loadingAnswer(stage: Stage, cartridge: NamedCartridge | null): LoadingAnswer {
  return {
    cartridge,
    capacitanceHz,
    channels: stage.circuit.channels.map(({ name }, channel) => {
      const admittance = inputAdmittance(stage.small, channel);
      const response = cartridge === null ? null : cartridgeResponse(cartridge, admittance);
      const levels = response === null ? [] : frequencies.map((hz) => ({ hz, db: response(hz).db }));
      const reference = response?.(1000).db ?? 0;
      return {
        name,
        points: frequencies.map((hz) => impedancePoint(hz, admittance(hz))),
        inputOhms: 1 / admittance(1000)[0],
        capacitanceF: admittance(capacitanceHz)[1] / (2 * Math.PI * capacitanceHz),
        response: levels.map(({ hz, db }) => ({ hz, db, relativeDb: db - reference })),
        resonance: response === null ? null : resonanceOf(response, reference),
        curve: {
          hz: fineFrequencies,
          ohms: fineFrequencies.map((hz) => impedancePoint(hz, admittance(hz)).ohms),
          relativeDb: response === null ? [] : fineFrequencies.map((hz) => response(hz).db - reference),
        },
      };
    }),
  };
}

function impedancePoint(hz: number, [re, im]: readonly [number, number]): ChannelLoading['points'][number] {
  return { hz, ohms: 1 / Math.hypot(re, im), phaseDeg: (-Math.atan2(im, re) * 180) / Math.PI };
}

type Transfer = (hz: number) => { readonly db: number; readonly real: number };

/** 1/H = 1 + (R + jωL)(Y + jωC): its magnitude as a gain in dB, and its real part, which is zero where the node lags by 90°. */
function cartridgeResponse(
  { resistance, inductance, capacitance }: Source,
  admittance: (hz: number) => readonly [number, number],
): Transfer {
  return (hz) => {
    const omega = 2 * Math.PI * hz;
    const [g, boards] = admittance(hz);
    const b = boards + omega * capacitance;
    const real = 1 + resistance * g - omega * inductance * b;
    const imaginary = resistance * b + omega * inductance * g;
    return { db: -20 * Math.log10(Math.hypot(real, imaginary)), real };
  };
}

function resonanceOf(response: Transfer, reference: number): Resonance {
  const peak = highestPoint((hz) => response(hz).db - reference, 1000, highestHz);
  return { hz: laggingBy90(response), peakHz: peak.hz, peakDb: peak.db };
}

/** Bisection of the real part of 1/H, which falls from above 0 through the resonance, to 1e-9 of the frequency. */
function laggingBy90(response: Transfer): number | null {
  let [below, above] = [1000, highestHz];
  if (response(below).real <= 0 || response(above).real > 0) return null;
  while (above / below - 1 > 1e-9) {
    const middle = Math.sqrt(below * above);
    if (response(middle).real > 0) below = middle;
    else above = middle;
  }
  return below;
}
