import { realLu } from '@curvewright/solver';
import { noRelief, type Equations } from './equations.ts';
import { controlHolder } from './hold-controls.ts';
import type { Motion, TimeTolerance } from './motion.ts';

/** How an attempted step ended; `unknown` is where Newton's search would not settle or had nothing to hold it. */
export type StepEnd =
  { readonly kind: 'solved'; readonly error: number } | { readonly kind: 'unsolved'; readonly unknown: number };

/** A network in motion. The arrays are its own storage, one entry per unknown. */
export interface Stepper {
  /** s. */
  readonly seconds: number;
  readonly x: Float64Array;
  /** After an attempt: x at `middle` of the step and at its end. */
  readonly xMiddle: Float64Array;
  readonly xEnd: Float64Array;
  /** Newton steps in all. */
  readonly newtonSteps: number;
  /** Solves a step from here to `to` (s) and estimates its error over the tolerance. */
  attempt(to: number): StepEnd;
  /** Makes the attempted step's end the new state; only after a solved attempt. */
  accept(): void;
}

/** The inner instant of a step, as a fraction of it: both stages then have one and the same matrix, and the step is L-stable. */
export const middle: number = 2 - Math.SQRT2;
const diagonal = middle / 2;
const weight = Math.SQRT2 / 4;
/** Weights of the three slopes in the step's error: those of the embedded third-order formula minus its own. */
const errorWeights = [(1 - weight) / 3 - weight, (3 * weight + 1) / 3 - weight, diagonal / 3 - diagonal] as const;

/** Newton's search ends where its step is this fraction of what the error estimate is held to. */
const newtonShare = 1e-3;
const newtonLimit = 25;

/**
 * Steps in time by the trapezoidal rule over 2 − √2 of the step and the second backward difference over the rest (Bank, Coughran, Fichtner,
 * Grosse, Rose & Smith, IEEE Trans. CAD 4, 1985), second order, L-stable, in the form of Hosea & Shampine (Appl. Numer. Math. 20, 1996),
 * whose embedded third-order formula gives the error, filtered through the matrix so that stiff parts do not count twice. `drive` writes
 * the branches' volts at an instant. Starts at `start` with nothing in motion.
 */
export function createStepper(
  equations: Equations,
  motion: Motion,
  tolerance: TimeTolerance,
  drive: (seconds: number, branchVolts: Float64Array) => void,
  start: Float64Array,
): Stepper {
  const { network, residual, jacobian } = equations;
  const { size } = network;
  const lu = realLu(size);
  const hold = controlHolder(equations);
  const x = start.slice();
  const xMiddle = start.slice();
  const xEnd = start.slice();
  const xBefore = start.slice();
  const xBeforeMiddle = start.slice();
  const charge = new Float64Array(size);
  const slope = new Float64Array(size);
  const slopeMiddle = new Float64Array(size);
  const slopeEnd = new Float64Array(size);
  const history = new Float64Array(size);
  const step = new Float64Array(size);
  const isVoltage = network.names.map(({ kind }) => kind !== 'current');
  let seconds = 0;
  let newtonSteps = 0;
  let strideBefore = 0;
  let target = 0;

  equations.readControls(x, equations.controls);
  motion.read(x);
  charge.set(motion.charge);
  const controls = equations.controls.slice();

  /** Newton's search for one stage from the guess in `at`; −1, or the unknown that would not settle. */
  function solveStage(at: Float64Array, instant: number, rate: number): number {
    drive(instant, equations.branchVolts);
    hold(at);
    let worst = 0;
    for (let n = 0; n < newtonLimit; n++) {
      equations.assemble(at, noRelief);
      motion.add(at, rate, history);
      lu.matrix.set(jacobian);
      const column = lu.factor();
      if (column >= 0) return column;
      for (let i = 0; i < size; i++) step[i] = -residual[i]!;
      lu.solve(step);
      newtonSteps++;
      let ratio = 0;
      worst = 0;
      for (let i = 0; i < size; i++) {
        const moved = step[i]!;
        const reached = at[i]! + moved;
        at[i] = reached;
        if (!isVoltage[i]) continue;
        const over = Math.abs(moved) / (tolerance.relative * Math.abs(reached) + tolerance.volts);
        if (!(over <= ratio)) {
          ratio = over;
          worst = i;
        }
      }
      if (!Number.isFinite(ratio)) return worst;
      if (!hold(at) && ratio <= newtonShare) {
        motion.read(at);
        return -1;
      }
    }
    return worst;
  }

  /** The parabola through the step before, read at `stride` (s) from here into `guess`. */
  function foresee(stride: number, guess: Float64Array): void {
    if (strideBefore === 0) {
      guess.set(x);
      return;
    }
    const s = stride / strideBefore;
    const m = 1 - middle;
    const before = (s * (s + m)) / middle;
    const between = (-s * (s + 1)) / (m * middle);
    const now = ((s + 1) * (s + m)) / m;
    for (let i = 0; i < size; i++) {
      guess[i] = before * xBefore[i]! + between * xBeforeMiddle[i]! + now * x[i]!;
    }
  }

  function attempt(to: number): StepEnd {
    const stride = to - seconds;
    const rate = 1 / (diagonal * stride);
    target = to;
    equations.controls.set(controls);
    foresee(middle * stride, xMiddle);
    for (let i = 0; i < size; i++) history[i] = rate * charge[i]! + slope[i]!;
    let stuck = solveStage(xMiddle, seconds + middle * stride, rate);
    if (stuck >= 0) return { kind: 'unsolved', unknown: stuck };
    for (let i = 0; i < size; i++) {
      slopeMiddle[i] = rate * motion.charge[i]! - history[i]!;
      history[i] = rate * (charge[i]! + weight * stride * (slope[i]! + slopeMiddle[i]!));
    }
    foresee(stride, xEnd);
    stuck = solveStage(xEnd, to, rate);
    if (stuck >= 0) return { kind: 'unsolved', unknown: stuck };
    for (let i = 0; i < size; i++) {
      slopeEnd[i] = rate * motion.charge[i]! - history[i]!;
      const sum = errorWeights[0] * slope[i]! + errorWeights[1] * slopeMiddle[i]! + errorWeights[2] * slopeEnd[i]!;
      step[i] = sum / diagonal;
    }
    lu.solve(step);
    return { kind: 'solved', error: motion.worstError(xEnd, step, tolerance) };
  }

  function accept(): void {
    strideBefore = target - seconds;
    seconds = target;
    xBefore.set(x);
    xBeforeMiddle.set(xMiddle);
    x.set(xEnd);
    charge.set(motion.charge);
    slope.set(slopeEnd);
    controls.set(equations.controls);
  }

  return {
    get seconds() {
      return seconds;
    },
    get newtonSteps() {
      return newtonSteps;
    },
    x,
    xMiddle,
    xEnd,
    attempt,
    accept,
  };
}
