import type { Departure } from './departures.ts';
import { common, type Unknown } from './elements.ts';
import type { SmallSignal, SmallSignalChannel } from './linearise.ts';
import { frequencySolver } from './response.ts';

/**
 * The linearised network as its nonlinear parts see it at the harmonics of one fundamental: what is left once all linear unknowns are
 * eliminated. Complex numbers lie as re, im pairs.
 */
export interface HarmonicTransfers {
  /** Fundamental, Hz. */
  readonly hz: number;
  /** Solves the harmonics from 0 up to `highest` that are not solved yet; false where the network is singular at one. */
  reach(highest: number): boolean;
  /** At the k-th harmonic, moves of all controls by the ports' departures: controls × ports, row-major. */
  controlsByPorts(k: number): Float64Array;
  /** Likewise of the channel's output: one pair for every port. */
  outputByPorts(k: number): Float64Array;
  /** Amplitudes that 1 V rms at the channel's input node gives the controls while the network is linear; a pair for each. */
  readonly drivers: Float64Array;
  /** Likewise the output; a pair. */
  readonly driven: Float64Array;
}

/** For one channel driven alone. */
export function harmonicTransfers(
  small: SmallSignal,
  { drive, input, output }: SmallSignalChannel,
  departures: readonly Departure[],
  hz: number,
): HarmonicTransfers {
  const solver = frequencySolver(small);
  const controls = departures.flatMap((departure) => departure.controls);
  const ports = departures.flatMap((departure) => departure.ports);
  const x = new Float64Array(2 * small.size);
  const toControls: Float64Array[] = [];
  const toOutput: Float64Array[] = [];
  const drivers = new Float64Array(2 * controls.length);
  const driven = new Float64Array(2);

  const volts = (u: Unknown, part: number): number => (u === common ? 0 : x[2 * u + part]!);
  const readPair = (target: Float64Array, index: number, plus: Unknown, minus: Unknown): void => {
    target[2 * index] = volts(plus, 0) - volts(minus, 0);
    target[2 * index + 1] = volts(plus, 1) - volts(minus, 1);
  };

  function solvePorts(k: number): void {
    const byPorts = new Float64Array(2 * controls.length * ports.length);
    const outputs = new Float64Array(2 * ports.length);
    ports.forEach(([from, to], p) => {
      x.fill(0);
      // A departure is part of what leaves the nodes: on the other side of the equations it changes its sign.
      if (from !== common) x[2 * from] = -1;
      if (to !== common) x[2 * to] = 1;
      solver.lu.solve(x);
      controls.forEach(([plus, minus], c) => {
        readPair(byPorts, c * ports.length + p, plus, minus);
      });
      readPair(outputs, p, output, common);
    });
    toControls[k] = byPorts;
    toOutput[k] = outputs;
  }

  function solveDrive(): void {
    x.fill(0);
    x[2 * drive] = 1;
    solver.lu.solve(x);
    scale(x, volts(input, 0), volts(input, 1));
    controls.forEach(([plus, minus], c) => {
      readPair(drivers, c, plus, minus);
    });
    readPair(driven, 0, output, common);
  }

  return {
    hz,
    reach(highest) {
      for (let k = toControls.length; k <= highest; k++) {
        if (!solver.setFrequency(k * hz)) return false;
        if (k === 1) solveDrive();
        solvePorts(k);
      }
      return true;
    },
    controlsByPorts: (k) => toControls[k]!,
    outputByPorts: (k) => toOutput[k]!,
    drivers,
    driven,
  };
}

/** x · √2/(re + j·im): from the generator's volt to an amplitude of 1 V rms where re + j·im stood. */
function scale(x: Float64Array, re: number, im: number): void {
  const norm = (re * re + im * im) / Math.SQRT2;
  for (let k = 0; k < x.length; k += 2) {
    const [xr, xi] = [x[k]!, x[k + 1]!];
    x[k] = (xr * re + xi * im) / norm;
    x[k + 1] = (xi * re - xr * im) / norm;
  }
}
