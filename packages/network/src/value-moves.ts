import { realLu } from '@curvewright/solver';
import type { OperatingPoint } from './bias.ts';
import { deviceWindows } from './device-windows.ts';
import { common, type Unknown } from './elements.ts';
import { createEquations, noRelief } from './equations.ts';
import { gainMoves, type GainMoves } from './gain-moves.ts';
import type { SmallSignal } from './linearise.ts';
import { looseElements, looseShare, type LooseElement, type LooseValue } from './loose-values.ts';
import type { Network } from './network.ts';

/** First-order moves of a network's bias voltages and gains, for a change of 1 in the natural logarithm of each loose value. */
export interface ValueMoves extends GainMoves {
  /** V between each pair, and what the pair looks like from outside at the bias: dV/dI, Ω. */
  readonly volts: Float64Array;
  readonly ohms: Float64Array;
  /** `voltsMoves[pair * values + value]`, V. */
  readonly voltsMoves: Float64Array;
}

/**
 * What many boards' tolerances need (those of gains where `withMoves` asks for them): the same first-order moves as `biasSensitivities` and `gainSensitivities`, for a few loose values alone and to
 * a few digits, at a small part of their work: the moves of linear parts are written down, those of devices differenced once. One forward solve for each
 * value (dx/dp = −J⁻¹ ∂F/∂p), two for each channel and frequency. Null where the equations are singular at the bias.
 */
export function valueMoves(
  network: Network,
  point: OperatingPoint,
  { small, ...asked }: { readonly small: SmallSignal; readonly frequencies: Float64Array; readonly withMoves: boolean },
  pairs: readonly (readonly [Unknown, Unknown])[],
  values: readonly LooseValue[],
): ValueMoves | null {
  const elements = looseElements(network, values);
  const bias = biasMoves(network, point, elements);
  if (bias === null) return null;
  const { size } = network;
  // One place more than unknowns, which stays 0: gnd.
  const ends = Int32Array.from(pairs.flatMap((pair) => pair.map((unknown) => (unknown === common ? size : unknown))));
  const x = new Float64Array(size + 1);
  const own = x.subarray(0, size);
  const volts = new Float64Array(pairs.length);
  const ohms = new Float64Array(pairs.length);
  const voltsMoves = new Float64Array(pairs.length * values.length);
  own.set(point.x);
  for (let p = 0; p < pairs.length; p++) volts[p] = x[ends[2 * p]!]! - x[ends[2 * p + 1]!]!;
  for (let v = 0; v < values.length; v++) {
    own.set(bias.moves[v]!);
    for (let p = 0; p < pairs.length; p++) voltsMoves[p * values.length + v] = x[ends[2 * p]!]! - x[ends[2 * p + 1]!]!;
  }
  for (let p = 0; p < pairs.length; p++) {
    const [plus, minus] = [ends[2 * p]!, ends[2 * p + 1]!];
    if (plus === minus) continue;
    x.fill(0);
    x[plus] = 1;
    x[minus] = -1;
    x[size] = 0;
    bias.solve(own);
    ohms[p] = x[plus] - x[minus];
  }
  return { volts, ohms, voltsMoves, ...gainMoves(network, point, small, asked, elements, bias.moves) };
}

interface BiasMoves {
  /** dx for each value. */
  readonly moves: readonly Float64Array[];
  /** In place, with the Jacobian of the bias. */
  readonly solve: (b: Float64Array) => void;
}

function biasMoves(
  network: Network,
  { x, controls }: OperatingPoint,
  elements: readonly LooseElement[],
): BiasMoves | null {
  const equations = createEquations(network);
  equations.controls.set(controls);
  equations.assemble(x, noRelief);
  const lu = realLu(network.size);
  lu.matrix.set(equations.jacobian);
  if (lu.factor() >= 0) return null;
  const windows = deviceWindows(network, controls);
  const at = (unknown: Unknown): number => (unknown === common ? 0 : x[unknown]!);
  const moves = elements.map((element) => {
    const step = new Float64Array(network.size);
    // −∂F/∂(ln value)
    const leave = (unknown: Unknown, amps: number): void => {
      if (unknown !== common) step[unknown] = step[unknown]! - amps;
    };
    switch (element.kind) {
      case 'none':
      case 'capacitance':
        return step;
      case 'resistance':
        for (const { a, b, siemens } of element.conductances) {
          const amps = siemens * (at(a) - at(b));
          leave(a, -amps);
          leave(b, amps);
        }
        break;
      case 'supply':
        leave(element.branch.current, -element.branch.volts);
        break;
      case 'device': {
        const { leads } = network.devices[element.index]!;
        const [higher, lower, slopes] = [
          new Float64Array(leads.length),
          new Float64Array(leads.length),
          windows[element.index]!.slopes,
        ];
        element.higher.evaluate(windows[element.index]!.at, higher, slopes);
        element.lower.evaluate(windows[element.index]!.at, lower, slopes);
        leads.forEach((lead, l) => {
          leave(lead, (higher[l]! - lower[l]!) / (2 * looseShare));
        });
      }
    }
    lu.solve(step);
    return step;
  });
  return {
    moves,
    solve: (b) => {
      lu.solve(b);
    },
  };
}
