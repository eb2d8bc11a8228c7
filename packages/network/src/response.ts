import { complexLu, type ComplexLu } from '@curvewright/solver';
import type { SmallSignal } from './linearise.ts';

/** Solves A(ω) x = b of one network over many frequencies in storage made once. */
export interface FrequencySolver {
  /** Assembles and factors at a frequency (Hz); false where the network is singular there. */
  setFrequency(hz: number): boolean;
  /** Solves in place (2 × size numbers, re im pairs) and refines once against the assembled matrix. */
  solve(b: Float64Array): void;
  /** Solves Aᵀ x = b in place and refines once: with b = 1 at an output, x is what 1 in each row of the equations does to that output. */
  solveTransposed(b: Float64Array): void;
  /** Largest residual of a row in the last solve over the sizes of its terms, before and after refinement the smaller. */
  residual(): number;
  readonly lu: ComplexLu;
}

export function frequencySolver(small: SmallSignal): FrequencySolver {
  const { size, conductance, capacitance, loss } = small;
  const lu = complexLu(size);
  const assembled = new Float64Array(2 * size * size);
  const wanted = new Float64Array(2 * size);
  const correction = new Float64Array(2 * size);
  let residual = 0;
  const { entries: filled, rowStarts } = filledEntries(small);

  /**
   * correction = wanted − A x; returns the largest row over |A||x| + |b|. Where that is itself rounding (the row of a virtual earth
   * holds nothing but a voltage that ought to be zero), the row's entries times the largest x join the scale (Arioli, Demmel & Duff,
   * SIAM J. Matrix Anal. Appl. 10, 1989).
   */
  function leave(x: Float64Array): number {
    let worst = 0;
    let largest = 0;
    for (let k = 0; k < x.length; k += 2) largest = Math.max(largest, Math.abs(x[k]!) + Math.abs(x[k + 1]!));
    const rounding = 1000 * size * Number.EPSILON;
    for (let i = 0; i < size; i++) {
      let re = wanted[2 * i]!;
      let im = wanted[2 * i + 1]!;
      let flow = Math.abs(re) + Math.abs(im);
      let entries = 0;
      for (let n = rowStarts[i]!; n < rowStarts[i + 1]!; n++) {
        const k = filled[n]!;
        const ar = assembled[2 * k]!;
        const ai = assembled[2 * k + 1]!;
        const j = k - i * size;
        const xr = x[2 * j]!;
        const xi = x[2 * j + 1]!;
        re -= ar * xr - ai * xi;
        im -= ar * xi + ai * xr;
        const entry = Math.abs(ar) + Math.abs(ai);
        flow += entry * (Math.abs(xr) + Math.abs(xi));
        entries += entry;
      }
      if (flow <= rounding * entries * largest) flow += entries * largest;
      correction[2 * i] = re;
      correction[2 * i + 1] = im;
      if (flow > 0) worst = Math.max(worst, (Math.abs(re) + Math.abs(im)) / flow);
    }
    return worst;
  }

  /** correction = wanted − Aᵀ x. */
  function leaveTransposed(x: Float64Array): void {
    correction.set(wanted);
    for (let i = 0; i < size; i++) {
      const xr = x[2 * i]!;
      const xi = x[2 * i + 1]!;
      for (let n = rowStarts[i]!; n < rowStarts[i + 1]!; n++) {
        const k = filled[n]!;
        const ar = assembled[2 * k]!;
        const ai = assembled[2 * k + 1]!;
        const j = 2 * (k - i * size);
        correction[j] = correction[j]! - (ar * xr - ai * xi);
        correction[j + 1] = correction[j + 1]! - (ar * xi + ai * xr);
      }
    }
  }

  return {
    lu,
    residual: () => residual,
    setFrequency(hz) {
      const omega = 2 * Math.PI * hz;
      for (const k of filled) {
        assembled[2 * k] = conductance[k]! + omega * loss[k]!;
        assembled[2 * k + 1] = omega * capacitance[k]!;
      }
      lu.matrix.set(assembled);
      return lu.factor() < 0;
    },
    solve(b) {
      wanted.set(b);
      lu.solve(b);
      residual = leave(b);
      lu.solve(correction);
      for (let k = 0; k < b.length; k++) b[k] = b[k]! + correction[k]!;
      residual = Math.min(residual, leave(b));
    },
    solveTransposed(b) {
      wanted.set(b);
      lu.solveTransposed(b);
      leaveTransposed(b);
      lu.solveTransposed(correction);
      for (let k = 0; k < b.length; k++) b[k] = b[k]! + correction[k]!;
    },
  };
}

/** Positions (row · size + column) of the entries that are not zero at every frequency, and where each row begins among them. */
function filledEntries({ size, conductance, capacitance, loss }: SmallSignal): {
  entries: Int32Array;
  rowStarts: Int32Array;
} {
  const entries: number[] = [];
  const rowStarts = new Int32Array(size + 1);
  for (let i = 0; i < size; i++) {
    for (let k = i * size; k < (i + 1) * size; k++) {
      if (conductance[k] !== 0 || capacitance[k] !== 0 || loss[k] !== 0) entries.push(k);
    }
    rowStarts[i + 1] = entries.length;
  }
  return { entries: Int32Array.from(entries), rowStarts };
}

/** Gains from each driven channel's input node to every channel's output node. */
export interface Response {
  /** Hz, as asked for. */
  readonly frequencies: Float64Array;
  /** `gains[from][to]`: re, im pairs over the frequencies; NaN where the network is singular. */
  readonly gains: readonly (readonly Float64Array[])[];
  /** Largest residual of all solves over the sizes of its terms. */
  readonly residual: number;
}

/**
 * Drives one channel after the other, the others' generators at 0 V, and reads all outputs. `solver` is one of the same network, where
 * the caller keeps one for many calls.
 */
export function solveResponse(
  small: SmallSignal,
  frequencies: Float64Array,
  solver: FrequencySolver = frequencySolver(small),
): Response {
  const x = new Float64Array(2 * small.size);
  const gains = small.channels.map(() => small.channels.map(() => new Float64Array(2 * frequencies.length)));
  let residual = 0;
  frequencies.forEach((hz, n) => {
    const solvable = solver.setFrequency(hz);
    small.channels.forEach(({ drive, input }, from) => {
      if (solvable) {
        x.fill(0);
        x[2 * drive] = 1;
        solver.solve(x);
        residual = Math.max(residual, solver.residual());
      } else x.fill(NaN);
      small.channels.forEach(({ output }, to) => {
        writeRatio(gains[from]![to]!, n, x, output, input);
      });
    });
  });
  return { frequencies, gains, residual };
}

/** target[n] = x[over] / x[under]; gnd counts as 0 V. */
function writeRatio(target: Float64Array, n: number, x: Float64Array, over: number, under: number): void {
  const [or, oi] = over < 0 ? [0, 0] : [x[2 * over]!, x[2 * over + 1]!];
  const [ur, ui] = under < 0 ? [0, 0] : [x[2 * under]!, x[2 * under + 1]!];
  const norm = ur * ur + ui * ui;
  target[2 * n] = (or * ur + oi * ui) / norm;
  target[2 * n + 1] = (oi * ur - or * ui) / norm;
}
