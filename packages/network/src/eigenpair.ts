import { complexLu } from '@curvewright/solver';
import { modulus, type Eigenvalue } from './pencil-eigenvalues.ts';
import type { Pencil } from './state-basis.ts';

/** An eigenvalue of G + s·C with its vectors, re im pairs: (G + s·C)·right = 0 and leftᵀ·(G + s·C) = 0. */
export interface Eigenpair {
  readonly s: Eigenvalue;
  readonly right: Float64Array;
  readonly left: Float64Array;
  /** leftᵀ·C·right. */
  readonly norm: Eigenvalue;
  /** Σ |left|·|(G + s·C)·right| over |s·norm|: what is left over in every row, as the most by which it could move s, relative, to first order. */
  readonly residual: number;
  /** False where `s` is as it came in: no quotient of these vectors settles, as where two eigenvalues share one vector. */
  readonly settled: boolean;
}

/** Refines eigenvalues of one pencil in storage made once. */
export interface Refiner {
  /**
   * Sharpens `start` to rounding; `near` are pairs already found whose eigenvalues are close by: their directions are taken out, so that
   * none is found twice. Null where the pencil is singular round about.
   */
  refine(start: Eigenvalue, near: readonly Eigenpair[]): Eigenpair | null;
}

const mostSteps = 8;

/** A refinement whose steps do not come down to this, relative, has not settled. */
const settledWithin = 1e-8;

/** leftᵀ·C·right over the sizes of its terms: less than this, and another eigenvalue is so near that both have one vector. */
const alone = 1e-6;

/** Further than this from where it began, relative, a refinement has run off to another eigenvalue. */
const strayed = 1e-3;

/**
 * Two-sided Rayleigh quotient iteration (Ostrowski, Arch. Rat. Mech. Anal. 3, 1959; Parlett, Math. Comp. 28, 1974) with complex LU factors:
 * of both vectors at once, so that the quotient's error is the product of theirs.
 */
export function eigenpairRefiner(pencil: Pencil): Refiner {
  const { size } = pencil;
  const lu = complexLu(size);
  const entries = filledEntries(pencil);

  /** Factors at s; false where the pencil is singular round about. */
  function factorAt(s: Eigenvalue): boolean {
    // On an eigenvalue to the last bit a pivot may vanish: a few eps beside it the directions are the same.
    for (let nudge = 0; ; nudge = nudge === 0 ? 4 * Number.EPSILON : nudge * 16) {
      lu.matrix.fill(0);
      for (const { index, g, c } of entries) {
        lu.matrix[2 * index] = g + s.re * (1 + nudge) * c;
        lu.matrix[2 * index + 1] = s.im * (1 + nudge) * c;
      }
      if (lu.factor() < 0) return true;
      if (nudge > 1e-3) return false;
    }
  }

  /** target = C·v, or Cᵀ·v. */
  function timesStorage(v: Float64Array, transposed: boolean): Float64Array {
    const target = new Float64Array(2 * size);
    for (const { row, column, c } of entries) {
      if (c === 0) continue;
      const [to, from] = transposed ? [column, row] : [row, column];
      target[2 * to] = target[2 * to]! + c * v[2 * from]!;
      target[2 * to + 1] = target[2 * to + 1]! + c * v[2 * from + 1]!;
    }
    return target;
  }

  /** (G + s·C)·v, or (G + s·C)ᵀ·v. */
  function apply(s: Eigenvalue, v: Float64Array, transposed: boolean): Float64Array {
    const target = new Float64Array(2 * size);
    for (const { row, column, g, c } of entries) {
      const [ar, ai] = [g + s.re * c, s.im * c];
      const [to, from] = transposed ? [column, row] : [row, column];
      const [vr, vi] = [v[2 * from]!, v[2 * from + 1]!];
      target[2 * to] = target[2 * to]! + ar * vr - ai * vi;
      target[2 * to + 1] = target[2 * to + 1]! + ar * vi + ai * vr;
    }
    return target;
  }

  function residualOf(s: Eigenvalue, right: Float64Array, left: Float64Array, norm: Eigenvalue): number {
    const rest = apply(s, right, false);
    let sum = 0;
    for (let k = 0; k < rest.length; k += 2) {
      sum += Math.hypot(rest[k]!, rest[k + 1]!) * Math.hypot(left[k]!, left[k + 1]!);
    }
    return sum / (modulus(s) * modulus(norm));
  }

  function refine(start: Eigenvalue, near: readonly Eigenpair[]): Eigenpair | null {
    const right = startingVector(size, 2 * near.length + 1);
    const left = startingVector(size, 2 * near.length + 2);
    let [s, moved] = [start, Infinity];
    for (let step = 0; step < mostSteps; step++) {
      if (!factorAt(s)) return null;
      advance(right, false, near);
      advance(left, true, near);
      const correction = quotient(dot(left, apply(s, right, false)), dot(left, timesStorage(right, false)));
      // A real start stays real: its vectors are.
      const next = { re: s.re - correction.re, im: start.im === 0 ? 0 : s.im - correction.im };
      const off = modulus({ re: next.re - start.re, im: next.im - start.im });
      const move = modulus(correction);
      // At rounding the steps no longer shrink; the very first may be the largest, its vectors come from nowhere.
      if (!(off <= strayed * modulus(start)) || (step > 1 && move >= moved / 2)) break;
      [s, moved] = [next, move];
      if (move === 0) break;
    }
    // Where two eigenvalues have one vector the quotient finds no rest, and the decomposition is the better judge.
    const settled = moved <= settledWithin * modulus(start) && standsAlone(right, left);
    if (!settled) s = start;
    const norm = dot(left, timesStorage(right, false));
    return { s, right, left, norm, residual: residualOf(s, right, left, norm), settled };
  }

  function standsAlone(right: Float64Array, left: Float64Array): boolean {
    const stored = timesStorage(right, false);
    let whole = 0;
    for (let k = 0; k < stored.length; k += 2) {
      whole += Math.hypot(stored[k]!, stored[k + 1]!) * Math.hypot(left[k]!, left[k + 1]!);
    }
    return modulus(dot(left, stored)) > alone * whole;
  }

  /** One step of inverse iteration of a right or left vector, without the directions of `near`, scaled to 1. */
  function advance(v: Float64Array, transposed: boolean, near: readonly Eigenpair[]): void {
    v.set(timesStorage(v, transposed));
    if (transposed) lu.solveTransposed(v);
    else lu.solve(v);
    for (const pair of near) {
      const share = quotient(dot(transposed ? pair.right : pair.left, timesStorage(v, transposed)), pair.norm);
      const known = transposed ? pair.left : pair.right;
      for (let j = 0; j < 2 * size; j += 2) {
        v[j] = v[j]! - (share.re * known[j]! - share.im * known[j + 1]!);
        v[j + 1] = v[j + 1]! - (share.re * known[j + 1]! + share.im * known[j]!);
      }
    }
    let largest = 0;
    for (const entry of v) largest = Math.max(largest, Math.abs(entry));
    for (let j = 0; j < v.length; j++) v[j] = v[j]! / largest;
  }

  return { refine };
}

interface Entry {
  readonly index: number;
  readonly row: number;
  readonly column: number;
  readonly g: number;
  readonly c: number;
}

function filledEntries({ size, conductance, capacitance }: Pencil): readonly Entry[] {
  const entries: Entry[] = [];
  for (let index = 0; index < size * size; index++) {
    const [g, c] = [conductance[index]!, capacitance[index]!];
    if (g !== 0 || c !== 0) entries.push({ index, row: Math.floor(index / size), column: index % size, g, c });
  }
  return entries;
}

/** Real entries between 0.5 and 1.5 that repeat nowhere (the fractional parts of multiples of the golden ratio), so that no vector is missed. */
function startingVector(size: number, seed: number): Float64Array {
  const golden = (Math.sqrt(5) - 1) / 2;
  return Float64Array.from({ length: 2 * size }, (_, k) => (k % 2 === 0 ? 0.5 + (((k + seed) * golden) % 1) : 0));
}

/** aᵀ·b, not conjugated. */
function dot(a: Float64Array, b: Float64Array): Eigenvalue {
  let [re, im] = [0, 0];
  for (let k = 0; k < a.length; k += 2) {
    re += a[k]! * b[k]! - a[k + 1]! * b[k + 1]!;
    im += a[k]! * b[k + 1]! + a[k + 1]! * b[k]!;
  }
  return { re, im };
}

export function quotient(a: Eigenvalue, b: Eigenvalue): Eigenvalue {
  const norm = b.re * b.re + b.im * b.im;
  return { re: (a.re * b.re + a.im * b.im) / norm, im: (a.im * b.re - a.re * b.im) / norm };
}
