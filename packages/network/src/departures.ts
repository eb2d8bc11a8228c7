import { saturate } from '@curvewright/devices';
import type { OperatingPoint } from './bias.ts';
import { deviceWindows } from './device-windows.ts';
import { common, type PlacedAmplifier, type PlacedDevice, type Unknown } from './elements.ts';
import type { Network } from './network.ts';

/**
 * A nonlinear part as its departure from its small-signal line at the bias: what is left of its currents and charges when the bias and the
 * slopes there, which the linearised network already holds, are taken off. Voltages are moves from the bias.
 */
export interface Departure {
  readonly ref: string;
  /** Each control is the voltage of the first unknown over the second. */
  readonly controls: readonly (readonly [Unknown, Unknown])[];
  /** Each port's current flows from the node of the first row through the part to the second (an op-amp's: volts in those two rows). */
  readonly ports: readonly (readonly [Unknown, Unknown])[];
  /** Departures at the controls' `moves`, and their slopes there; slopes are row-major ports × controls. */
  evaluate(moves: Float64Array, into: DepartureValues): void;
  /** Holds a step of the controls, both as moves, to what the part's exponentials bear: shortens `proposed` in place; true where it did. */
  limit(proposed: Float64Array, previous: Float64Array): boolean;
}

export interface DepartureValues {
  readonly currents: Float64Array;
  readonly currentSlopes: Float64Array;
  readonly charges: Float64Array;
  readonly chargeSlopes: Float64Array;
}

/** Room for a part's departures. */
export function departureValues({ ports, controls }: Departure): DepartureValues {
  const slopes = ports.length * controls.length;
  return {
    currents: new Float64Array(ports.length),
    currentSlopes: new Float64Array(slopes),
    charges: new Float64Array(ports.length),
    chargeSlopes: new Float64Array(slopes),
  };
}

/**
 * The nonlinear parts, devices and op-amps with limits, that bend when one channel alone is driven: its own and the shared ones. Those of the
 * other channels hear no more than crosstalk, and stay on their lines.
 */
export function departuresOf(network: Network, point: OperatingPoint, channel: string): readonly Departure[] {
  const windows = deviceWindows(network, point.controls);
  const owners = new Map(network.circuit.parts.map((part) => [part.ref, part.channel]));
  const bends = ({ ref }: { readonly ref: string }): boolean => (owners.get(ref) ?? channel) === channel;
  return [
    ...network.devices.flatMap((placed, i) => (bends(placed) ? [deviceDeparture(placed, windows[i]!.at)] : [])),
    ...network.amplifiers.flatMap((placed) =>
      placed.rails && bends(placed) ? [limitDeparture(placed, placed.rails, point)] : [],
    ),
  ];
}

/** V; no part's current runs away within so small a step. */
const smallStep = 5e-3;

/** Times the promised current that a step may reach. */
const overshoot = 3;

/** A; a part without current at the bias is taken to carry this, so that it may begin to conduct. */
const leastBias = 1e-6;

function deviceDeparture({ ref, device, leads }: PlacedDevice, bias: Float64Array): Departure {
  const width = device.controls.length;
  // The currents of a part add up to zero, so the last lead takes what the others bring.
  const ports = leads.length - 1;
  const room = (): { amounts: Float64Array; slopes: Float64Array } => ({
    amounts: new Float64Array(leads.length),
    slopes: new Float64Array(leads.length * width),
  });
  const [currents, charges, biasCurrents, biasCharges] = [room(), room(), room(), room()];
  const at = new Float64Array(width);
  const held = new Float64Array(width);
  device.evaluate(bias, biasCurrents.amounts, biasCurrents.slopes);
  device.store(bias, biasCharges.amounts, biasCharges.slopes);
  const promised = new Float64Array(ports);
  const largestBias = Math.max(leastBias, ...biasCurrents.amounts.map(Math.abs));

  /** What a port's current may become: a few times what it is, what its tangent promises and what the bias is. */
  function bearableCurrent(p: number): number {
    let tangent = currents.amounts[p]!;
    for (let k = 0; k < width; k++) tangent += currents.slopes[p * width + k]! * (held[k]! - at[k]!);
    return overshoot * (Math.max(Math.abs(tangent), Math.abs(currents.amounts[p]!)) + largestBias);
  }

  function isBearable(): boolean {
    device.evaluate(held, currents.amounts, currents.slopes);
    for (let p = 0; p < ports; p++) if (Math.abs(currents.amounts[p]!) > promised[p]!) return false;
    return true;
  }

  function takeOff(
    now: ReturnType<typeof room>,
    line: ReturnType<typeof room>,
    moves: Float64Array,
    amounts: Float64Array,
    slopes: Float64Array,
  ): void {
    for (let p = 0; p < ports; p++) {
      let sum = now.amounts[p]! - line.amounts[p]!;
      for (let k = p * width; k < (p + 1) * width; k++) {
        sum -= line.slopes[k]! * moves[k - p * width]!;
        slopes[k] = now.slopes[k]! - line.slopes[k]!;
      }
      amounts[p] = sum;
    }
  }

  return {
    ref,
    controls: device.controls.map(([plus, minus]) => [leads[plus]!, leads[minus]!] as const),
    ports: leads.slice(0, ports).map((lead) => [lead, leads[ports]!] as const),
    evaluate(moves, into) {
      for (let k = 0; k < width; k++) at[k] = bias[k]! + moves[k]!;
      device.evaluate(at, currents.amounts, currents.slopes);
      device.store(at, charges.amounts, charges.slopes);
      takeOff(currents, biasCurrents, moves, into.currents, into.currentSlopes);
      takeOff(charges, biasCharges, moves, into.charges, into.chargeSlopes);
    },
    limit(proposed, previous) {
      let far = 0;
      for (let k = 0; k < width; k++) {
        at[k] = bias[k]! + previous[k]!;
        held[k] = bias[k]! + proposed[k]!;
        far = Math.max(far, Math.abs(held[k]! - at[k]!));
      }
      if (far <= smallStep) return false;
      let changed = device.limit(held, at);
      device.evaluate(at, currents.amounts, currents.slopes);
      for (let p = 0; p < ports; p++) promised[p] = bearableCurrent(p);
      for (let halvings = 0; halvings < 40 && !isBearable(); halvings++) {
        for (let k = 0; k < width; k++) held[k] = (at[k]! + held[k]!) / 2;
        changed = true;
      }
      if (changed) for (let k = 0; k < width; k++) proposed[k] = held[k]! - bias[k]!;
      return changed;
    },
  };
}

/** What an op-amp's output lacks of its small-signal line; controls: its drive, its negative and its positive supply node. */
function limitDeparture(
  { ref, model, drive, current }: PlacedAmplifier,
  rails: readonly [Unknown, Unknown],
  point: OperatingPoint,
): Departure {
  const volts = (u: Unknown): number => (u === common ? 0 : point.x[u]!);
  const [z0, low0, high0] = [volts(drive), volts(rails[1]) + model.below, volts(rails[0]) - model.above];
  const line = new Float64Array(4);
  saturate(z0, low0, high0, line);
  const now = new Float64Array(4);
  return {
    ref,
    controls: [
      [drive, common],
      [rails[1], common],
      [rails[0], common],
    ],
    // The equations hold +reached in the drive's row and −reached in the output's.
    ports: [[drive, current]],
    evaluate(moves, { currents, currentSlopes }) {
      saturate(z0 + moves[0]!, low0 + moves[1]!, high0 + moves[2]!, now);
      currents[0] = now[0]! - line[0]!;
      for (let k = 0; k < 3; k++) {
        currents[0] = currents[0] - line[k + 1]! * moves[k]!;
        currentSlopes[k] = now[k + 1]! - line[k + 1]!;
      }
    },
    limit: () => false,
  };
}
