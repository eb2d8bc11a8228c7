import { compileNetwork } from './compile.ts';
import type { CircuitParameter, LonePart } from './circuit-parameters.ts';
import { slopesAtZero } from './differences.ts';
import { common, type Unknown, type UnknownName } from './elements.ts';
import { createEquations, noRelief } from './equations.ts';
import type { Network } from './network.ts';
import { smallSignalTerms, type BiasPoint, type Pair, type Term } from './small-signal-terms.ts';

/** How one part's own equations move, at the network's bias: with its parameters, and with the voltages its slopes depend on. */
export interface PartSlopes {
  /** Its terms of the linearised network, between the network's unknowns. */
  readonly terms: readonly Term[];
  /** The voltages between unknowns that its terms depend on: controls of a device, what an op-amp strives for and its supplies. */
  readonly states: readonly Pair[];
  /** ∂term/∂state, row-major terms × states. */
  readonly byState: Float64Array;
  readonly parameters: readonly ParameterSlopes[];
}

/** For a change of 1 in the natural logarithm of a parameter, all voltages held. */
export interface ParameterSlopes {
  readonly parameter: CircuitParameter;
  /** Rows of the circuit equations whose residual moves, and by how much. */
  readonly rows: readonly Unknown[];
  readonly residual: readonly number[];
  /** Of each of the part's terms. */
  readonly terms: Float64Array;
}

/** First step of a parameter, as a part of it. */
const firstShare = 0.01;

/** V; first step of a control voltage: a twenty-fifth of kT/q, over which every exponential is smooth. */
const firstVolts = 1e-3;

/** Differentiates a part's own equations (losses in the dielectric form) at the bias of the network that holds it. */
export function partSlopes(network: Network, point: BiasPoint, { alone, parameters }: LonePart): PartSlopes {
  const own = compileNetwork(alone);
  const places = placesIn(network, own);
  const at = ownPoint(network, point, own, places);
  const linear = smallSignalTerms(own);
  const { terms } = linear;
  const place = (unknown: Unknown): Unknown => (unknown === common ? common : places[unknown]!);
  const placed = ([first, second]: Pair): Pair => [place(first), place(second)];

  const states = statesOf(own);
  const byState = new Float64Array(terms.length * states.length);
  states.forEach((state, k) => {
    const slopes = slopesAtZero(
      (volts, results) => {
        const moved = { x: at.x.slice(), controls: at.controls.slice() };
        state.write(moved, volts);
        linear.evaluate(moved);
        results.set(linear.values);
      },
      terms.length,
      firstVolts,
    );
    slopes.forEach((slope, t) => (byState[t * states.length + k] = slope));
  });

  return {
    terms: terms.map((term) => ({ ...term, row: placed(term.row), column: placed(term.column) })),
    states: states.map(({ between }) => placed(between)),
    byState,
    parameters: parameters.map((parameter) => {
      const slopes = slopesAtZero(
        (share, results) => {
          writeEquations(compileNetwork(parameter.times(alone, 1 + share)), at, results);
        },
        own.size + terms.length,
        firstShare,
      );
      const moved = [...places.keys()].filter((row) => slopes[row] !== 0);
      return {
        parameter,
        rows: moved.map((row) => places[row]!),
        residual: moved.map((row) => slopes[row]!),
        terms: slopes.slice(own.size),
      };
    }),
  };
}

/** Residuals of all rows, then values of all terms. */
function writeEquations(network: Network, point: BiasPoint, results: Float64Array): void {
  const equations = createEquations(network);
  equations.controls.set(point.controls);
  equations.assemble(point.x, noRelief);
  results.set(equations.residual);
  const linear = smallSignalTerms(network);
  linear.evaluate(point);
  results.set(linear.values, network.size);
}

/** Where the unknowns of a part alone stand in the network: a part with parameters has no two of one kind. */
function placesIn(network: Network, own: Network): readonly Unknown[] {
  const keyOf = (name: UnknownName): string =>
    name.kind === 'node' ? `node ${name.node}` : `${name.kind} of ${name.ref}`;
  const known = new Map(network.names.map((name, unknown) => [keyOf(name), unknown]));
  return own.names.map((name) => {
    const unknown = known.get(keyOf(name));
    if (unknown === undefined) throw new Error(`the network has no ${keyOf(name)}`);
    return unknown;
  });
}

/** The part's share of the network's bias. */
function ownPoint(network: Network, point: BiasPoint, own: Network, places: readonly Unknown[]): BiasPoint {
  const x = Float64Array.from(places, (unknown) => point.x[unknown]!);
  let from = 0;
  for (const { ref, device } of network.devices) {
    if (own.devices.some((each) => each.ref === ref)) {
      return { x, controls: point.controls.slice(from, from + device.controls.length) };
    }
    from += device.controls.length;
  }
  return { x, controls: new Float64Array(0) };
}

interface OwnState {
  readonly between: Pair;
  /** Moves it by so many V. */
  write(point: BiasPoint, volts: number): void;
}

function statesOf({ devices, amplifiers }: Network): readonly OwnState[] {
  const ofDevices = devices.flatMap(({ device, leads }) =>
    device.controls.map(([plus, minus], k): OwnState => ({
      between: [leads[plus]!, leads[minus]!],
      write: ({ controls }, volts) => (controls[k] = controls[k]! + volts),
    })),
  );
  const ofAmplifiers = amplifiers.flatMap(({ drive, rails }) =>
    rails === null
      ? []
      : [drive, ...rails]
          .filter((unknown) => unknown !== common)
          .map((unknown): OwnState => ({
            between: [unknown, common],
            write: ({ x }, volts) => (x[unknown] = x[unknown]! + volts),
          })),
  );
  return [...ofDevices, ...ofAmplifiers];
}
