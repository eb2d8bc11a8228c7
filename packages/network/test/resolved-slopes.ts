import type { Circuit } from '@curvewright/board';
import {
  compileNetwork,
  linearise,
  solveBias,
  solveResponse,
  type CircuitParameter,
  type Network,
  type OperatingPoint,
  type SmallSignal,
  type Source,
} from '../src/index.ts';

/** A circuit solved to the last digit that the bias search reaches. */
export interface Resolved {
  readonly network: Network;
  readonly point: OperatingPoint;
  readonly small: SmallSignal;
  /** For each channel re, im pairs over the frequencies. */
  readonly gains: readonly Float64Array[];
}

/** Null where no bias is found. A search from a bias takes one Newton step at least, which squares what was left of the error. */
export function resolve(
  circuit: Circuit,
  source: Source,
  frequencies: Float64Array,
  near?: OperatingPoint,
): Resolved | null {
  const network = compileNetwork(circuit, source);
  let bias = solveBias(network, near);
  for (let n = 0; n < 2 && bias.ok; n++) bias = solveBias(network, bias.point);
  if (!bias.ok) return null;
  const small = linearise(network, bias.point);
  return { network, point: bias.point, small, gains: solveResponse(small, frequencies).gains.map((row, i) => row[i]!) };
}

/** A slope from whole stages solved anew, and how far its last two extrapolations lie apart. */
export interface Slope {
  readonly slope: number;
  readonly doubt: number;
}

/** First step as a part of the parameter, and how often it is halved. */
const [first, levels] = [0.02, 5];

/**
 * d/d(ln parameter) of whatever `read` finds in the stage solved anew at both sides: central differences extrapolated to step 0 by Romberg's
 * scheme; the entry of the table nearest its neighbour counts. Null where a side has no bias.
 */
export function resolvedSlopes(
  circuit: Circuit,
  source: Source,
  { times }: CircuitParameter,
  frequencies: Float64Array,
  near: OperatingPoint,
  read: (resolved: Resolved) => readonly number[],
): readonly Slope[] | null {
  const centrals: (readonly number[])[] = [];
  for (let n = 0; n < levels; n++) {
    const step = first / 2 ** n;
    const [above, below] = [1, -1].map((side) => resolve(times(circuit, 1 + side * step), source, frequencies, near));
    if (!above || !below) return null;
    const low = read(below);
    centrals.push(read(above).map((value, i) => (value - low[i]!) / (2 * step)));
  }
  return centrals[0]!.map((_, i) => romberg(centrals.map((row) => row[i]!)));
}

function romberg(column: readonly number[]): Slope {
  let best: Slope = { slope: column[0]!, doubt: Infinity };
  let previous = column;
  for (let order = 4; previous.length > 1; order *= 4) {
    const next = previous.slice(1).map((fine, n) => (order * fine - previous[n]!) / (order - 1));
    next.forEach((slope, n) => {
      const doubt = Math.abs(slope - previous[n + 1]!);
      if (doubt < best.doubt) best = { slope, doubt };
    });
    previous = next;
  }
  // Plain differences that do not settle by themselves belong to a jump, whatever two extrapolations happen to share.
  return { slope: best.slope, doubt: best.doubt + 1e-5 * Math.abs(column.at(-1)! - column.at(-2)!) };
}
