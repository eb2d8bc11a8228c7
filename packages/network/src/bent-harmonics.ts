import { fourier } from '@curvewright/solver';
import { bentParts, type BentParts } from './bent-parts.ts';
import type { Departure } from './departures.ts';
import type { HarmonicTransfers } from './harmonic-transfers.ts';

/**
 * The way around from the harmonics of the open moves through the parts' samples and the network back to the open moves, on one grid of
 * samples. Harmonics of each control or port lie together: number n of them begins at n · 2 · harmonics.
 */
export interface BentHarmonics {
  /** k = 0 up to this number less one. */
  readonly harmonics: number;
  readonly parts: BentParts;
  /** Harmonics of the ports' departures after `subtractReturn`: A, for an op-amp V. */
  readonly departures: Float64Array;
  /** Gives the parts the samples of these harmonics of the open moves. */
  sample(open: Float64Array): void;
  /** target −= what the parts' departures, as samples, do to the open moves. */
  subtractReturn(target: Float64Array): void;
}

/**
 * Weights of the harmonics of what the parts bend: 1 to within 1e-5 for the lower fifth, then falling smoothly to nothing. Where a loop opens,
 * voltages jump within less than a sample; cut off sharply, their harmonics would ring on both sides of the jump (exponential filter:
 * Gottlieb & Shu, SIAM Review 39, 1997).
 */
function taper(harmonics: number): Float64Array {
  return Float64Array.from({ length: harmonics }, (_, k) => Math.exp(-36 * (k / harmonics) ** 10));
}

/** `resistances`: what the ports do to the controls at once, which the parts' load lines hold already. */
export function bentHarmonics(
  departing: readonly Departure[],
  transfers: HarmonicTransfers,
  resistances: Float64Array,
  samples: number,
): BentHarmonics {
  const transform = fourier(samples);
  const { harmonics, signals } = transform;
  const width = 2 * harmonics;
  const weights = taper(harmonics);
  const parts = bentParts(departing, resistances, samples);
  const { controls, ports } = parts;
  const departures = new Float64Array(ports * width);
  const charges = new Float64Array(ports * width);
  const idle = new Float64Array(width);
  /** Of one harmonic: the ports' currents alone, pairs. */
  const currents = new Float64Array(2 * ports);

  function analyse(): void {
    for (let p = 0; p < ports; p++) {
      for (let n = 0; n < samples; n++) {
        signals[2 * n] = parts.currents[p * samples + n]!;
        signals[2 * n + 1] = parts.charges[p * samples + n]!;
      }
      transform.analyse(departures, charges, p * width);
    }
  }

  /** Keeps the currents of the k-th harmonic and adds to them those that the charges make. */
  function addChargeCurrents(k: number): void {
    const omega = 2 * Math.PI * k * transfers.hz;
    const weight = weights[k]!;
    for (let p = 0; p < ports; p++) {
      const at = p * width + 2 * k;
      currents[2 * p] = departures[at]! * weight;
      currents[2 * p + 1] = departures[at + 1]! * weight;
      departures[at] = currents[2 * p]! - omega * charges[at + 1]! * weight;
      departures[at + 1] = currents[2 * p + 1]! + omega * charges[at]! * weight;
    }
  }

  return {
    harmonics,
    parts,
    departures,
    sample(open) {
      for (let c = 0; c < controls; c += 2) {
        const single = c + 1 === controls;
        transform.synthesise(open, c * width, single ? idle : open, single ? 0 : (c + 1) * width);
        for (let n = 0; n < samples; n++) {
          parts.open[c * samples + n] = signals[2 * n]!;
          if (!single) parts.open[(c + 1) * samples + n] = signals[2 * n + 1]!;
        }
      }
    },
    subtractReturn(target) {
      analyse();
      for (let k = 0; k < harmonics; k++) {
        addChargeCurrents(k);
        const byPorts = transfers.controlsByPorts(k);
        for (let c = 0; c < controls; c++) {
          let re = 0;
          let im = 0;
          for (let p = 0; p < ports; p++) {
            const t = 2 * (c * ports + p);
            const r = p * width + 2 * k;
            const own = resistances[c * ports + p]!;
            re += byPorts[t]! * departures[r]! - byPorts[t + 1]! * departures[r + 1]! - own * currents[2 * p]!;
            im += byPorts[t]! * departures[r + 1]! + byPorts[t + 1]! * departures[r]! - own * currents[2 * p + 1]!;
          }
          const at = c * width + 2 * k;
          target[at] = target[at]! - re;
          if (k > 0) target[at + 1] = target[at + 1]! - im;
        }
      }
    },
  };
}
