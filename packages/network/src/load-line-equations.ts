import { realLu } from '@curvewright/solver';
import { departureValues, type Departure, type DepartureValues } from './departures.ts';

/**
 * The equations u = open + R·i(u) of all nonlinear parts of a channel at one instant, linearised: u the moves of the controls from the bias, i
 * the departures of the ports, R what these do to the controls at once.
 */
export interface LoadLineEquations {
  readonly controls: number;
  readonly ports: number;
  /** V. */
  readonly moves: Float64Array;
  /** The ports' departures after `evaluate`: A, for an op-amp V; and C. */
  readonly currents: Float64Array;
  readonly charges: Float64Array;
  /** Takes currents, charges and slopes at `moves`. */
  evaluate(): void;
  /** How far each control is off its load line then; true where that is within its `slack`. */
  leave(open: Float64Array, slack: Float64Array): boolean;
  /** Factors (1 + drag) − R·S, S the slopes; returns the sign of the determinant, 0 where it is singular. */
  factor(drag: number): number;
  /** Moves the controls by what was left over what was factored, no further than the parts' exponentials bear. */
  advance(): void;
  /** Slopes of currents and charges over the open moves, ports × controls, row-major, written from `at` on; factored without drag. */
  slopes(currentSlopes: Float64Array, chargeSlopes: Float64Array, at: number): void;
}

interface PlacedPart {
  readonly part: Departure;
  /** Where its controls and ports begin among all. */
  readonly control: number;
  readonly port: number;
  readonly values: DepartureValues;
  readonly at: Float64Array;
  readonly to: Float64Array;
}

/** `resistances`: R, controls × ports, row-major. */
export function loadLineEquations(parts: readonly Departure[], resistances: Float64Array): LoadLineEquations {
  const placed = placeParts(parts);
  const controls = parts.reduce((sum, part) => sum + part.controls.length, 0);
  const ports = parts.reduce((sum, part) => sum + part.ports.length, 0);
  const moves = new Float64Array(controls);
  const currents = new Float64Array(ports);
  const charges = new Float64Array(ports);
  const lu = realLu(controls);
  const left = new Float64Array(controls);
  const row = new Float64Array(controls);

  function writeSlopes(target: Float64Array, from: number, kind: 'currentSlopes' | 'chargeSlopes'): void {
    for (const { control, port, values, at } of placed) {
      for (let p = 0; p < values.currents.length; p++) {
        row.fill(0);
        for (let k = 0; k < at.length; k++) row[control + k] = values[kind][p * at.length + k]!;
        lu.solveTransposed(row);
        target.set(row, from + (port + p) * controls);
      }
    }
  }

  return {
    controls,
    ports,
    moves,
    currents,
    charges,
    evaluate() {
      for (const { part, control, port, values, at } of placed) {
        for (let c = 0; c < at.length; c++) at[c] = moves[control + c]!;
        part.evaluate(at, values);
        for (let p = 0; p < values.currents.length; p++) {
          currents[port + p] = values.currents[p]!;
          charges[port + p] = values.charges[p]!;
        }
      }
    },
    leave(open, slack) {
      let within = true;
      for (let c = 0; c < controls; c++) {
        let off = moves[c]! - open[c]!;
        for (let p = 0; p < ports; p++) off -= resistances[c * ports + p]! * currents[p]!;
        left[c] = off;
        if (!(Math.abs(off) <= slack[c]!)) within = false;
      }
      return within;
    },
    factor(drag) {
      const { matrix } = lu;
      matrix.fill(0);
      for (let c = 0; c < controls; c++) matrix[c * controls + c] = 1 + drag;
      for (const { control, port, values, at } of placed) {
        for (let p = 0; p < values.currents.length; p++) {
          for (let k = 0; k < at.length; k++) {
            const slope = values.currentSlopes[p * at.length + k]!;
            if (slope === 0) continue;
            for (let c = 0; c < controls; c++) {
              const entry = c * controls + control + k;
              matrix[entry] = matrix[entry]! - resistances[c * ports + port + p]! * slope;
            }
          }
        }
      }
      return lu.factor() < 0 ? lu.determinantSign() : 0;
    },
    advance() {
      lu.solve(left);
      for (const { part, control, at, to } of placed) {
        for (let c = 0; c < at.length; c++) to[c] = at[c]! - left[control + c]!;
        part.limit(to, at);
        for (let c = 0; c < at.length; c++) moves[control + c] = to[c]!;
      }
    },
    slopes(currentSlopes, chargeSlopes, at) {
      writeSlopes(currentSlopes, at, 'currentSlopes');
      writeSlopes(chargeSlopes, at, 'chargeSlopes');
    },
  };
}

function placeParts(parts: readonly Departure[]): readonly PlacedPart[] {
  let control = 0;
  let port = 0;
  return parts.map((part) => {
    const width = part.controls.length;
    const values = departureValues(part);
    const placed = { part, control, port, values, at: new Float64Array(width), to: new Float64Array(width) };
    control += width;
    port += part.ports.length;
    return placed;
  });
}
