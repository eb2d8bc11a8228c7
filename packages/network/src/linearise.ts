import { reach } from '@curvewright/devices';
import type { OperatingPoint } from './bias.ts';
import { unknownOf, type Network } from './network.ts';
import { common, type Unknown } from './elements.ts';
import { deviceWindows } from './device-windows.ts';

/**
 * The network linearised at its bias: A(ω) = G + jω·C + ω·D, row-major size × size, with D the dielectric losses that
 * grow with frequency. Plain data.
 */
export interface SmallSignal {
  readonly size: number;
  /** S, and the entries of branch and op-amp rows. */
  readonly conductance: Float64Array;
  /** F, and −H in branch rows. */
  readonly capacitance: Float64Array;
  /** F · tan δ. */
  readonly loss: Float64Array;
  readonly channels: readonly SmallSignalChannel[];
}

export interface SmallSignalChannel {
  readonly name: string;
  /** The row in which a generator of 1 V enters. */
  readonly drive: Unknown;
  readonly input: Unknown;
  readonly output: Unknown;
}

export function linearise(network: Network, point: OperatingPoint): SmallSignal {
  const { size } = network;
  const conductance = new Float64Array(size * size);
  const capacitance = new Float64Array(size * size);
  const loss = new Float64Array(size * size);

  const add = (target: Float64Array, row: Unknown, column: Unknown, value: number): void => {
    if (row !== common && column !== common) target[row * size + column] = target[row * size + column]! + value;
  };
  const addBetween = (target: Float64Array, a: Unknown, b: Unknown, value: number): void => {
    add(target, a, a, value);
    add(target, b, b, value);
    add(target, a, b, -value);
    add(target, b, a, -value);
  };

  for (const { a, b, siemens } of network.conductances) addBetween(conductance, a, b, siemens);
  for (const { a, b, farads, loss: tangent } of network.capacitances) {
    addBetween(capacitance, a, b, farads);
    addBetween(loss, a, b, farads * tangent);
  }
  for (const { a, b, current, ohms, henries } of network.branches) {
    add(conductance, a, current, 1);
    add(conductance, b, current, -1);
    add(conductance, current, a, 1);
    add(conductance, current, b, -1);
    add(conductance, current, current, -ohms);
    add(capacitance, current, current, -henries);
  }

  const windows = deviceWindows(network, point.controls);
  network.devices.forEach(({ device, leads }, i) => {
    const { at, currents, slopes } = windows[i]!;
    for (const target of [conductance, capacitance]) {
      if (target === conductance) device.evaluate(at, currents, slopes);
      else device.store(at, currents, slopes);
      leads.forEach((row, lead) => {
        device.controls.forEach(([plus, minus], k) => {
          const slope = slopes[lead * device.controls.length + k]!;
          add(target, row, leads[plus]!, slope);
          add(target, row, leads[minus]!, -slope);
        });
      });
    }
  });

  const limited = new Float64Array(4);
  for (const { model, plus, minus, out, rails, drive, current } of network.amplifiers) {
    limited.set([0, 1, 0, 0]);
    if (rails) {
      const volts = (u: Unknown): number => (u === common ? 0 : point.x[u]!);
      reach(model, point.x[drive]!, volts(rails[1]), volts(rails[0]), limited);
    }
    const [, dz, dNegative, dPositive] = limited as unknown as [number, number, number, number];
    add(conductance, out, current, 1);
    add(conductance, drive, plus, 1);
    add(conductance, drive, minus, -1);
    add(conductance, drive, drive, -model.inverseGain - (1 - dz));
    add(capacitance, drive, drive, -model.inverseGbw);
    add(conductance, current, out, 1);
    add(conductance, current, drive, -dz);
    add(conductance, current, current, -model.Rout);
    if (rails) {
      // Rejection is a figure of changes: at the bias the supplies stand where the offset was specified.
      add(conductance, drive, rails[1], dNegative + model.inversePsrr);
      add(conductance, drive, rails[0], dPositive + model.inversePsrr);
      add(conductance, current, rails[1], -dNegative);
      add(conductance, current, rails[0], -dPositive);
    }
  }

  const channels = network.circuit.channels.map(({ name, input, output }, i) => ({
    name,
    drive: network.inputs[i]!.current,
    input: unknownOf(network, input),
    output: unknownOf(network, output),
  }));
  return { size, conductance, capacitance, loss, channels };
}
