import { gmres } from '@curvewright/solver';
import { bentHarmonics } from './bent-harmonics.ts';
import type { Departure } from './departures.ts';
import type { HarmonicTransfers } from './harmonic-transfers.ts';

/**
 * The balance on one grid of samples: the harmonics w of the open moves of all controls obey w = a·h + (T − R)·i(w), with a·h the linear
 * network's answer to the drive, i the harmonics of what the parts depart from their lines, each instant on its load line, T the network's
 * transfers and R the share of them that acts at once, which the load lines hold.
 */
export interface HarmonicBalance {
  readonly samples: number;
  /** k = 0 up to this number less one. */
  readonly harmonics: number;
  /** How many. */
  readonly controls: number;
  /** w, V, controls × 2 · harmonics, re im pairs; the search begins where this stands. */
  readonly open: Float64Array;
  /** V, moves of the controls at every sample, samples × controls; where the search for each instant begins. */
  readonly moves: Float64Array;
  /** Harmonics of the ports' departures after a search, ports × 2 · harmonics: A, for an op-amp V. */
  readonly departures: Float64Array;
  /** Newton's method from `open` for a drive of so many V rms at the input node; true where it settled. */
  settle(inputVolts: number): boolean;
}

/** Newton steps of one search; a search that needs more is better begun from a nearer level. */
const mostSteps = 20;

/** A Newton step leaves this much of the linear system: each step then gains two digits, and a tighter solve would be lost on a bent curve. */
const linearTolerance = 1e-2;

/** Vectors of the linear solve: clipping takes up to 25. */
const mostVectors = 40;

/** What is left of the balance at the end, over each control's own swing. */
const settledAt = 1e-7;

/** Where steps no longer help, rounding of large transfers may leave this much. */
const roundingMayLeave = 1e-6;

/** A start this far off seldom comes to an end; a nearer level costs less. */
const farOff = 30;

/** After so many steps a residual still above this goes around in circles. */
const patience = 8;
const lost = 0.1;

/** V; below it a control's swing is that of rounding. */
const stillest = 1e-12;

/** The least swing a control is measured by, over the largest of all: what smaller ones do is rounding to the others. */
const leastShare = 1e-5;

/** How far off its load line an instant may stay, over the swing: its error in the balance is below what is left at the end. */
const slackShare = 1e-9;

export function harmonicBalance(
  departing: readonly Departure[],
  transfers: HarmonicTransfers,
  resistances: Float64Array,
  samples: number,
): HarmonicBalance {
  const { drivers } = transfers;
  const bent = bentHarmonics(departing, transfers, resistances, samples);
  const { harmonics, parts } = bent;
  const { controls } = parts;
  const width = 2 * harmonics;
  const size = controls * width;

  const open = new Float64Array(size);
  /** Of every control: what it is measured by, and its slack on the load line. */
  const scales = new Float64Array(controls);
  const slack = new Float64Array(controls);
  const residual = new Float64Array(size);
  const step = new Float64Array(size);
  const unscaled = new Float64Array(size);
  const linear = gmres(size, Math.min(size, mostVectors));

  function setScales(inputVolts: number): void {
    let largest = stillest;
    for (let c = 0; c < controls; c++) {
      let swing = inputVolts * Math.hypot(drivers[2 * c]!, drivers[2 * c + 1]!);
      for (let at = c * width; at < (c + 1) * width; at++) swing = Math.max(swing, Math.abs(open[at]!));
      scales[c] = swing;
      largest = Math.max(largest, swing);
    }
    for (let c = 0; c < controls; c++) {
      scales[c] = Math.max(scales[c]!, leastShare * largest);
      slack[c] = Math.max(slackShare * scales[c]!, stillest);
    }
  }

  function scale(v: Float64Array): void {
    for (let c = 0; c < controls; c++) {
      for (let at = c * width; at < (c + 1) * width; at++) v[at] = v[at]! / scales[c]!;
    }
  }

  function unscale(v: Float64Array): void {
    for (let c = 0; c < controls; c++) {
      for (let at = c * width; at < (c + 1) * width; at++) unscaled[at] = v[at]! * scales[c]!;
    }
  }

  /** Fills `residual`, each control in its scale; returns its largest entry, or infinity where an instant has no load line to settle on. */
  function assemble(inputVolts: number): number {
    bent.sample(open);
    if (!parts.settle(slack)) return Infinity;
    residual.set(open);
    bent.subtractReturn(residual);
    for (let c = 0; c < controls; c++) {
      const fundamental = c * width + 2;
      residual[fundamental] = residual[fundamental]! - inputVolts * drivers[2 * c]!;
      residual[fundamental + 1] = residual[fundamental + 1]! - inputVolts * drivers[2 * c + 1]!;
    }
    scale(residual);
    return residual.reduce((largest, left) => (Math.abs(left) <= largest ? largest : Math.abs(left)), 0);
  }

  function applyJacobian(v: Float64Array, target: Float64Array): void {
    unscale(v);
    target.set(unscaled);
    bent.sample(unscaled);
    parts.follow();
    bent.subtractReturn(target);
    scale(target);
  }

  return {
    samples,
    harmonics,
    controls,
    open,
    moves: parts.moves,
    departures: bent.departures,
    settle(inputVolts) {
      setScales(inputVolts);
      let before = Infinity;
      for (let n = 0; n < mostSteps; n++) {
        const left = assemble(inputVolts);
        if (left <= settledAt || (left <= roundingMayLeave && left > before / 2)) return true;
        if (!(left < Infinity) || (n === 0 && left > farOff) || (n >= patience && left > lost)) return false;
        before = left;
        parts.linearise();
        linear.solve(applyJacobian, residual, step, linearTolerance);
        unscale(step);
        for (let i = 0; i < size; i++) open[i] = open[i]! - unscaled[i]!;
      }
      return false;
    },
  };
}
