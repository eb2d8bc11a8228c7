import { createEquations } from './equations.ts';
import { createMotion, type TimeTolerance } from './motion.ts';
import type { Network } from './network.ts';
import { describe } from './no-bias.ts';
import { createStepper } from './time-step.ts';

/** What drives a network in time. */
export interface Course {
  /** Writes V of every branch (in the network's order) at an instant, s. */
  readonly drive: (seconds: number, branchVolts: Float64Array) => void;
  /** Instants (s, ascending) at which a drive has a corner; a step ends at each. */
  readonly corners: readonly number[];
}

export interface RunOptions {
  /** s from the start at which the run ends. */
  readonly until: number;
  readonly tolerance: TimeTolerance;
  /** Steps attempted at most. */
  readonly budget: number;
  /** One entry per unknown at 0 s, at rest; silent: everything at 0. */
  readonly start?: Float64Array;
}

/** One step as its visitor sees it: x at its start, at `middle` of it and at its end, each for the length of the visit only. */
export interface TimeStep {
  /** s. */
  readonly from: number;
  readonly to: number;
  readonly start: Float64Array;
  readonly middle: Float64Array;
  readonly end: Float64Array;
}

/** `visitor`: it had seen enough. `until`: the time was up. `budget`: too many steps. `stuck`: no step however small can be solved, `where` says at which node or in which part. */
export type RunEnd =
  { readonly kind: 'visitor' | 'until' | 'budget' } | { readonly kind: 'stuck'; readonly where: string };

/** How a run in time went. */
export interface TimeRun {
  readonly end: RunEnd;
  /** s of circuit time. */
  readonly seconds: number;
  readonly taken: number;
  readonly rejected: number;
  readonly newtonSteps: number;
}

/** Of the estimated best stride; the error estimate is no promise. */
const caution = 0.85;
const quickest = 5;
const slowest = 0.1;

/** The first step and the shortest one that is tried, over the time to the first corner. */
const firstShare = 1e-10;
const leastShare = 1e-15;

/**
 * Runs a network through a course, with strides that keep the error of every capacitor's and device's charge and every inductor's flux within the
 * tolerance of each step. `visit` is called after each step and ends the run where it returns true.
 */
export function runInTime(
  network: Network,
  course: Course,
  options: RunOptions,
  visit: (step: TimeStep) => boolean,
): TimeRun {
  const { until, tolerance, budget, start = new Float64Array(network.size) } = options;
  const equations = createEquations(network);
  const motion = createMotion(equations);
  const stepper = createStepper(equations, motion, tolerance, course.drive, start);
  const stops = [...course.corners.filter((corner) => corner > 0 && corner < until), until];
  let stride = firstShare * stops[0]!;
  const shortest = leastShare * stops[0]!;
  let taken = 0;
  let rejected = 0;
  let stop = 0;
  const ended = (end: RunEnd): TimeRun => {
    return { end, seconds: stepper.seconds, taken, rejected, newtonSteps: stepper.newtonSteps };
  };

  while (stop < stops.length) {
    if (taken + rejected >= budget) return ended({ kind: 'budget' });
    const from = stepper.seconds;
    const left = stops[stop]! - from;
    // Two halves rather than a whole step and a sliver.
    const to = stride >= 0.999 * left ? stops[stop]! : from + Math.min(stride, left / 2);
    const step = stepper.attempt(to);
    if (step.kind === 'unsolved') {
      rejected++;
      stride = (to - from) / 8;
      if (stride < shortest || from + stride / 1e3 <= from)
        return ended({ kind: 'stuck', where: describe(network.names[step.unknown]!) });
      continue;
    }
    const best = (to - from) * Math.min(quickest, Math.max(slowest, caution * step.error ** (-1 / 3)));
    if (!(step.error <= 1)) {
      rejected++;
      stride = best;
      continue;
    }
    stride = best;
    taken++;
    const done = visit({ from, to, start: stepper.x, middle: stepper.xMiddle, end: stepper.xEnd });
    stepper.accept();
    if (to === stops[stop]) stop++;
    if (done) return ended({ kind: 'visitor' });
  }
  return ended({ kind: 'until' });
}
