import { fourier, gmres } from '@curvewright/solver';
import { bentParts } from './bent-parts.ts';
import { bentSamples } from './bent-samples.ts';
import type { Departure } from './departures.ts';
import type { HarmonicTransfers } from './harmonic-transfers.ts';

/**
 * The balance on one grid of samples: the harmonics w of all controls obey w = a·h + T·R(w), with a·h the linear network's answer to the
 * drive, R the harmonics of what the parts' samples depart from their lines, and T the network's transfers. Harmonics of each control or
 * port lie together: number n begins at n · 2 · harmonics.
 */
export interface HarmonicBalance {
  readonly samples: number;
  /** k = 0 up to this number less one. */
  readonly harmonics: number;
  /** How many. */
  readonly controls: number;
  /** Moves of the controls from the bias; the search begins where this stands. */
  readonly moves: Float64Array;
  /** Departures of the ports at `moves` after a search: A, for an op-amp V. */
  readonly departures: Float64Array;
  /** Newton's method from `moves` for a drive of so many V rms at the input node; true where it settled. */
  settle(inputVolts: number): boolean;
}

/** Newton steps of one search; a search that needs more is better begun from a nearer level. */
const mostSteps = 20;

/** A Newton step leaves this much of the linear system: each step then gains two digits, and a tighter solve would be lost on a bent curve. */
const linearTolerance = 1e-2;

/** Vectors of the linear solve; the strongly bent samples, which would need one each, are solved directly. */
const mostVectors = 40;

/** A linear solve that took more calls for the strongly bent samples to be chosen and factored anew. */
const fewVectors = 20;

/** Strongly bent samples solved directly. */
const mostBent = 240;

/** What is left of the balance at the end, over each control's own swing. */
const settledAt = 1e-7;

/** Where steps no longer help, rounding of large transfers may leave this much. */
const roundingMayLeave = 1e-6;

/** After so many steps a residual still above this goes around in circles. */
const patience = 7;
const lost = 0.1;

/** A residual this far above every swing does not come back. */
const hopeless = 1e9;

/** V; below it a control's swing is that of rounding. */
const stillest = 1e-12;

/** The least swing a control is measured by, over the largest of all: what smaller ones do is rounding to the others. */
const leastShare = 1e-5;

/**
 * Weights of the harmonics of what the parts bend: 1 to within 1e-5 for the lower fifth, then falling smoothly to nothing. Where a loop opens, voltages
 * jump within less than a sample; cut off sharply, their harmonics would ring on both sides of the jump, and exponentials make currents
 * of the ringing (exponential filter: Gottlieb & Shu, SIAM Review 39, 1997).
 */
function taper(harmonics: number): Float64Array {
  return Float64Array.from({ length: harmonics }, (_, k) => Math.exp(-36 * (k / harmonics) ** 10));
}

export function harmonicBalance(
  parts: readonly Departure[],
  transfers: HarmonicTransfers,
  samples: number,
): HarmonicBalance {
  const { drivers } = transfers;
  const transform = fourier(samples);
  const { harmonics, signals } = transform;
  const width = 2 * harmonics;
  const weights = taper(harmonics);
  const bent = bentParts(parts, samples);
  const { controls: controlCount, ports: portCount, swings } = bent;
  const size = controlCount * width;

  const moves = new Float64Array(size);
  const departures = new Float64Array(portCount * width);
  const charges = new Float64Array(portCount * width);
  const idle = new Float64Array(width);

  /** Of every control: what its moves are measured by. */
  const scales = new Float64Array(controlCount);
  const residual = new Float64Array(size);
  const step = new Float64Array(size);
  const unscaled = new Float64Array(size);
  const linear = gmres(size, Math.min(size, mostVectors));

  function sampleControls(from: Float64Array): void {
    for (let c = 0; c < controlCount; c += 2) {
      const single = c + 1 === controlCount;
      transform.synthesise(from, c * width, single ? idle : from, single ? 0 : (c + 1) * width);
      for (let n = 0; n < samples; n++) {
        swings[c * samples + n] = signals[2 * n]!;
        if (!single) swings[(c + 1) * samples + n] = signals[2 * n + 1]!;
      }
    }
  }

  /** departures = harmonics of the ports' currents and of the currents that their charges make. */
  function analysePorts(): void {
    const omega = 2 * Math.PI * transfers.hz;
    for (let p = 0; p < portCount; p++) {
      for (let n = 0; n < samples; n++) {
        signals[2 * n] = bent.currents[p * samples + n]!;
        signals[2 * n + 1] = bent.charges[p * samples + n]!;
      }
      transform.analyse(departures, charges, p * width);
      for (let k = 1; k < harmonics; k++) {
        const at = p * width + 2 * k;
        departures[at] = (departures[at]! - k * omega * charges[at + 1]!) * weights[k]!;
        departures[at + 1] = (departures[at + 1]! + k * omega * charges[at]!) * weights[k]!;
      }
    }
  }

  /** target −= T · departures. */
  function subtractTransferred(target: Float64Array): void {
    for (let k = 0; k < harmonics; k++) {
      const byPorts = transfers.controlsByPorts(k);
      for (let c = 0; c < controlCount; c++) {
        let re = 0;
        let im = 0;
        for (let p = 0; p < portCount; p++) {
          const t = 2 * (c * portCount + p);
          const r = p * width + 2 * k;
          re += byPorts[t]! * departures[r]! - byPorts[t + 1]! * departures[r + 1]!;
          im += byPorts[t]! * departures[r + 1]! + byPorts[t + 1]! * departures[r]!;
        }
        const at = c * width + 2 * k;
        target[at] = target[at]! - re;
        if (k > 0) target[at + 1] = target[at + 1]! - im;
      }
    }
  }

  /** Fills `residual` (each control in its scale) and the slopes; returns the largest residual. */
  function assemble(inputVolts: number): number {
    bent.bend();
    analysePorts();
    residual.set(moves);
    subtractTransferred(residual);
    let largest = 0;
    for (let c = 0; c < controlCount; c++) {
      const fundamental = c * width + 2;
      residual[fundamental] = residual[fundamental]! - inputVolts * drivers[2 * c]!;
      residual[fundamental + 1] = residual[fundamental + 1]! - inputVolts * drivers[2 * c + 1]!;
      for (let at = c * width; at < (c + 1) * width; at++) {
        residual[at] = residual[at]! / scales[c]!;
        const left = Math.abs(residual[at]!);
        if (!(left <= largest)) largest = left;
      }
    }
    return largest;
  }

  /** unscaled = v in volts plus what the strongly bent samples make of it. */
  function precondition(v: Float64Array): void {
    for (let c = 0; c < controlCount; c++) {
      for (let at = c * width; at < (c + 1) * width; at++) unscaled[at] = v[at]! * scales[c]!;
    }
    if (strong.count() === 0) return;
    sampleControls(unscaled);
    strong.solve(swings, bent.currents);
    bent.charges.fill(0);
    analysePorts();
    for (let i = 0; i < size; i++) unscaled[i] = -unscaled[i]!;
    subtractTransferred(unscaled);
    for (let i = 0; i < size; i++) unscaled[i] = -unscaled[i]!;
  }

  function applyJacobian(v: Float64Array, target: Float64Array): void {
    precondition(v);
    target.set(unscaled);
    sampleControls(unscaled);
    bent.follow();
    analysePorts();
    subtractTransferred(target);
    for (let c = 0; c < controlCount; c++) {
      for (let at = c * width; at < (c + 1) * width; at++) target[at] = target[at]! / scales[c]!;
    }
  }

  function setScales(inputVolts: number): void {
    let largest = stillest;
    for (let c = 0; c < controlCount; c++) {
      let swing = inputVolts * Math.hypot(drivers[2 * c]!, drivers[2 * c + 1]!);
      for (let at = c * width; at < (c + 1) * width; at++) swing = Math.max(swing, Math.abs(moves[at]!));
      scales[c] = swing;
      largest = Math.max(largest, swing);
    }
    for (let c = 0; c < controlCount; c++) scales[c] = Math.max(scales[c]!, leastShare * largest);
  }

  const strong = bentSamples(bent.windows, transfers, transform, weights, mostBent);
  /** Vectors that the last linear solve took. */
  let effort = mostVectors;

  return {
    samples,
    harmonics,
    controls: controlCount,
    moves,
    departures,
    settle(inputVolts) {
      setScales(inputVolts);
      sampleControls(moves);
      bent.anchor();
      let held = false;
      let before = Infinity;
      for (let n = 0; n <= mostSteps; n++) {
        const left = assemble(inputVolts);
        if (!held && (left <= settledAt || (left <= roundingMayLeave && left > before / 2))) return true;
        if (n === mostSteps || !(left < hopeless)) break;
        if (n >= patience && left > lost) break;
        before = left;
        if (effort > fewVectors) strong.prepare();
        effort = linear.solve(applyJacobian, residual, step, linearTolerance);
        precondition(step);
        for (let i = 0; i < size; i++) moves[i] = moves[i]! - unscaled[i]!;
        sampleControls(moves);
        held = bent.accept();
      }
      return false;
    },
  };
}
