import { fourier, gmres } from '@curvewright/solver';
import { departureValues, type Departure } from './departures.ts';
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
  /** Moves of the controls from the bias; the search begins where this stands. */
  readonly moves: Float64Array;
  /** Departures of the ports at `moves` after a search: A, for an op-amp V. */
  readonly departures: Float64Array;
  /** Newton's method from `moves` with `drive` times `drivers` (a pair for every control) at the fundamental; true where it settled. */
  settle(drivers: Float64Array, drive: number): boolean;
}

/** Newton steps of one search; a search that needs more is better begun from a nearer level. */
const mostSteps = 25;

/** A Newton step leaves this much of the linear system: each step then gains three digits, and a tighter solve would be lost on a bent curve. */
const linearTolerance = 1e-3;

/** Vectors of the linear solve: the bent samples of a deep clipping stage number fewer. */
const mostVectors = 60;

/** What is left of the balance at the end, over each control's own swing. */
const settledAt = 1e-10;

/** V; below it a control's swing is that of rounding. */
const stillest = 1e-12;

export function harmonicBalance(
  parts: readonly Departure[],
  transfers: HarmonicTransfers,
  samples: number,
): HarmonicBalance {
  const transform = fourier(samples);
  const { harmonics, signals } = transform;
  const width = 2 * harmonics;
  const controlCount = parts.reduce((sum, { controls }) => sum + controls.length, 0);
  const portCount = parts.reduce((sum, { ports }) => sum + ports.length, 0);
  const size = controlCount * width;

  const moves = new Float64Array(size);
  const departures = new Float64Array(portCount * width);
  const charges = new Float64Array(portCount * width);
  /** Samples: number n of the controls or ports begins at n · samples. */
  const swings = new Float64Array(controlCount * samples);
  const proposedSwings = new Float64Array(controlCount * samples);
  const bentCurrents = new Float64Array(portCount * samples);
  const bentCharges = new Float64Array(portCount * samples);
  const idle = new Float64Array(width);

  /** Of every control: what its moves are measured by. */
  const scales = new Float64Array(controlCount);
  const residual = new Float64Array(size);
  const step = new Float64Array(size);
  const proposed = new Float64Array(size);
  const unscaled = new Float64Array(size);
  const linear = gmres(size, Math.min(size, mostVectors));

  let control = 0;
  let port = 0;
  const windows = parts.map((part) => {
    const window = {
      part,
      control,
      port,
      values: departureValues(part),
      at: new Float64Array(part.controls.length),
      to: new Float64Array(part.controls.length),
      /** For every sample the slopes of currents and of charges. */
      currentSlopes: new Float64Array(samples * part.ports.length * part.controls.length),
      chargeSlopes: new Float64Array(samples * part.ports.length * part.controls.length),
    };
    control += part.controls.length;
    port += part.ports.length;
    return window;
  });

  function sampleControls(from: Float64Array, target: Float64Array): void {
    for (let c = 0; c < controlCount; c += 2) {
      const single = c + 1 === controlCount;
      transform.synthesise(from, c * width, single ? idle : from, single ? 0 : (c + 1) * width);
      for (let n = 0; n < samples; n++) {
        target[c * samples + n] = signals[2 * n]!;
        if (!single) target[(c + 1) * samples + n] = signals[2 * n + 1]!;
      }
    }
  }

  function bendSamples(): void {
    for (const { part, control, port, values, at, currentSlopes, chargeSlopes } of windows) {
      const slopes = values.currentSlopes.length;
      for (let n = 0; n < samples; n++) {
        for (let c = 0; c < at.length; c++) at[c] = swings[(control + c) * samples + n]!;
        part.evaluate(at, values);
        for (let p = 0; p < part.ports.length; p++) {
          bentCurrents[(port + p) * samples + n] = values.currents[p]!;
          bentCharges[(port + p) * samples + n] = values.charges[p]!;
        }
        currentSlopes.set(values.currentSlopes, n * slopes);
        chargeSlopes.set(values.chargeSlopes, n * slopes);
      }
    }
  }

  /** The samples of the ports when the controls move by `swings` along the slopes. */
  function followSlopes(): void {
    for (const { part, control, port, at, currentSlopes, chargeSlopes } of windows) {
      const count = at.length;
      for (let p = 0; p < part.ports.length; p++) {
        for (let n = 0; n < samples; n++) {
          let amps = 0;
          let coulombs = 0;
          for (let c = 0; c < count; c++) {
            const k = (n * part.ports.length + p) * count + c;
            const swing = swings[(control + c) * samples + n]!;
            amps += currentSlopes[k]! * swing;
            coulombs += chargeSlopes[k]! * swing;
          }
          bentCurrents[(port + p) * samples + n] = amps;
          bentCharges[(port + p) * samples + n] = coulombs;
        }
      }
    }
  }

  /** departures = harmonics of the ports' currents and of the currents that their charges make. */
  function analysePorts(): void {
    const omega = 2 * Math.PI * transfers.hz;
    for (let p = 0; p < portCount; p++) {
      for (let n = 0; n < samples; n++) {
        signals[2 * n] = bentCurrents[p * samples + n]!;
        signals[2 * n + 1] = bentCharges[p * samples + n]!;
      }
      transform.analyse(departures, charges, p * width);
      for (let k = 1; k < harmonics; k++) {
        const at = p * width + 2 * k;
        departures[at] = departures[at]! - k * omega * charges[at + 1]!;
        departures[at + 1] = departures[at + 1]! + k * omega * charges[at]!;
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

  /** Fills `residual` (in each control's scale) and the slopes at `from`; returns the sum of the residual's squares. */
  function assemble(from: Float64Array, drivers: Float64Array, drive: number): number {
    sampleControls(from, swings);
    bendSamples();
    analysePorts();
    residual.set(from);
    subtractTransferred(residual);
    let sum = 0;
    for (let c = 0; c < controlCount; c++) {
      const fundamental = c * width + 2;
      residual[fundamental] = residual[fundamental]! - drive * drivers[2 * c]!;
      residual[fundamental + 1] = residual[fundamental + 1]! - drive * drivers[2 * c + 1]!;
      for (let at = c * width; at < (c + 1) * width; at++) {
        residual[at] = residual[at]! / scales[c]!;
        sum += residual[at]! ** 2;
      }
    }
    return sum;
  }

  function applyJacobian(v: Float64Array, target: Float64Array): void {
    for (let c = 0; c < controlCount; c++) {
      for (let at = c * width; at < (c + 1) * width; at++) unscaled[at] = v[at]! * scales[c]!;
    }
    target.set(unscaled);
    sampleControls(unscaled, swings);
    followSlopes();
    analysePorts();
    subtractTransferred(target);
    for (let c = 0; c < controlCount; c++) {
      for (let at = c * width; at < (c + 1) * width; at++) target[at] = target[at]! / scales[c]!;
    }
  }

  function setScales(drivers: Float64Array, drive: number): void {
    let largest = stillest;
    for (let c = 0; c < controlCount; c++) {
      let swing = Math.abs(drive) * Math.hypot(drivers[2 * c]!, drivers[2 * c + 1]!);
      for (let at = c * width; at < (c + 1) * width; at++) swing = Math.max(swing, Math.abs(moves[at]!));
      scales[c] = swing;
      largest = Math.max(largest, swing);
    }
    for (let c = 0; c < controlCount; c++) scales[c] = Math.max(scales[c]!, 1e-9 * largest);
  }

  /** The fraction of `step` that the parts bear at every sample. */
  function bearableFraction(): number {
    for (let i = 0; i < size; i++) proposed[i] = moves[i]! + step[i]!;
    sampleControls(moves, swings);
    sampleControls(proposed, proposedSwings);
    let fraction = 1;
    for (const { part, control, at, to } of windows) {
      for (let n = 0; n < samples; n++) {
        for (let c = 0; c < at.length; c++) {
          at[c] = swings[(control + c) * samples + n]!;
          to[c] = proposedSwings[(control + c) * samples + n]!;
        }
        fraction = Math.min(fraction, part.bearable(at, to));
      }
    }
    return fraction;
  }

  function largestResidual(): number {
    let largest = 0;
    for (let i = 0; i < size; i++) {
      const left = Math.abs(residual[i]!);
      if (!(left <= largest)) largest = left;
    }
    return largest;
  }

  /** Takes as much of `step` as lowers the residual; false where no part of it does. */
  function advance(drivers: Float64Array, drive: number, before: number): number | null {
    let fraction = bearableFraction();
    for (let halvings = 0; halvings < 6; halvings++) {
      for (let i = 0; i < size; i++) proposed[i] = moves[i]! + fraction * step[i]!;
      const after = assemble(proposed, drivers, drive);
      if (after < before * (1 - 0.1 * fraction)) {
        moves.set(proposed);
        return after;
      }
      fraction /= 2;
    }
    return null;
  }

  return {
    samples,
    harmonics,
    moves,
    departures,
    settle(drivers, drive) {
      setScales(drivers, drive);
      let square: number | null = assemble(moves, drivers, drive);
      for (let n = 0; n < mostSteps; n++) {
        if (largestResidual() <= settledAt) return true;
        linear.solve(applyJacobian, residual, step, linearTolerance);
        for (let c = 0; c < controlCount; c++) {
          for (let at = c * width; at < (c + 1) * width; at++) step[at] = -step[at]! * scales[c]!;
        }
        square = advance(drivers, drive, square);
        if (square === null) return false;
      }
      return largestResidual() <= settledAt;
    },
  };
}
