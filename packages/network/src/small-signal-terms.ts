import { reach } from '@curvewright/devices';
import type { OperatingPoint } from './bias.ts';
import { deviceWindows } from './device-windows.ts';
import { common, type PlacedDevice, type Unknown } from './elements.ts';
import type { Network } from './network.ts';

/** Which of the matrices G, C and D of A(ω) = G + jω·C + ω·D a term belongs to. */
export type TermKind = 'conductance' | 'capacitance' | 'loss';

/** From the first unknown to the second; `common` for gnd, and for the other end of a row or column that stands alone. */
export type Pair = readonly [Unknown, Unknown];

/**
 * Takes one term of the linearised network: `value` times (column's first − column's second) flows out of the row's first and into the
 * row's second, so that what is the same at both ends of a pair drops out before any rounding.
 */
export type TermVisitor = (kind: TermKind, ref: string, row: Pair, column: Pair, value: number) => void;

/** Every term of the network linearised at its bias, by the designator of its part. */
export function visitSmallSignalTerms(network: Network, point: OperatingPoint, visit: TermVisitor): void {
  visitPassiveTerms(network, visit);
  visitDeviceTerms(network, point, visit);
  visitAmplifierTerms(network, point, visit);
}

function visitPassiveTerms(network: Network, visit: TermVisitor): void {
  for (const { ref, a, b, siemens } of network.conductances) visit('conductance', ref, [a, b], [a, b], siemens);
  for (const { ref, a, b, farads, loss } of network.capacitances) {
    visit('capacitance', ref, [a, b], [a, b], farads);
    if (loss > 0) visit('loss', ref, [a, b], [a, b], farads * loss);
  }
  for (const { ref, a, b, current, ohms, henries } of network.branches) {
    const own: Pair = [current, common];
    visit('conductance', ref, [a, b], own, 1);
    visit('conductance', ref, own, [a, b], 1);
    visit('conductance', ref, own, own, -ohms);
    visit('capacitance', ref, own, own, -henries);
  }
}

function visitDeviceTerms(network: Network, point: OperatingPoint, visit: TermVisitor): void {
  const windows = deviceWindows(network, point.controls);
  network.devices.forEach((placed, i) => {
    const { at, currents, slopes } = windows[i]!;
    placed.device.evaluate(at, currents, slopes);
    visitSlopes(placed, slopes, visit);
    placed.device.store(at, currents, slopes);
    visitCharges(placed, slopes, visit);
  });
}

/** What a control moves into the leads adds up to nothing: each control's minus lead is the one that gives it back. */
function visitSlopes({ ref, device, leads }: PlacedDevice, slopes: Float64Array, visit: TermVisitor): void {
  device.controls.forEach(([plus, minus], k) => {
    for (let lead = 0; lead < leads.length; lead++) {
      const slope = slopes[lead * device.controls.length + k]!;
      if (lead === minus || slope === 0) continue;
      visit('conductance', ref, [leads[lead]!, leads[minus]!], [leads[plus]!, leads[minus]!], slope);
    }
  });
}

/** The charges of every device are those of capacitances between its leads, whatever controls they are written in. */
function visitCharges({ ref, device, leads }: PlacedDevice, slopes: Float64Array, visit: TermVisitor): void {
  const { length: width } = device.controls;
  const by = (lead: number, other: number): number =>
    device.controls.reduce((sum, [plus, minus], k) => {
      const slope = slopes[lead * width + k]!;
      return sum + (plus === other ? slope : 0) - (minus === other ? slope : 0);
    }, 0);
  for (let lead = 0; lead < leads.length; lead++) {
    for (let other = lead + 1; other < leads.length; other++) {
      const [farads, back] = [-by(lead, other), -by(other, lead)];
      if (Math.abs(farads - back) > 1e-12 * Math.abs(farads))
        throw new Error(`${ref} stores charge that does not go both ways`);
      if (farads === 0) continue;
      const pair: Pair = [leads[lead]!, leads[other]!];
      visit('capacitance', ref, pair, pair, farads);
    }
  }
}

function visitAmplifierTerms(network: Network, point: OperatingPoint, visit: TermVisitor): void {
  const limited = new Float64Array(4);
  const volts = (u: Unknown): number => (u === common ? 0 : point.x[u]!);
  for (const { ref, model, plus, minus, out, rails, drive, current } of network.amplifiers) {
    limited.set([0, 1, 0, 0]);
    if (rails) reach(model, point.x[drive]!, volts(rails[1]), volts(rails[0]), limited);
    const [, dz, dNegative, dPositive] = limited as unknown as [number, number, number, number];
    const [striving, flowing]: [Pair, Pair] = [
      [drive, common],
      [current, common],
    ];
    visit('conductance', ref, [out, common], flowing, 1);
    visit('conductance', ref, striving, [plus, minus], 1);
    visit('conductance', ref, striving, striving, -model.inverseGain - (1 - dz));
    visit('capacitance', ref, striving, striving, -model.inverseGbw);
    visit('conductance', ref, flowing, [out, common], 1);
    visit('conductance', ref, flowing, striving, -dz);
    visit('conductance', ref, flowing, flowing, -model.Rout);
    if (!rails) continue;
    // Rejection is a figure of changes: at the bias the supplies stand where the offset was specified.
    visit('conductance', ref, striving, [rails[1], common], dNegative + model.inversePsrr);
    visit('conductance', ref, striving, [rails[0], common], dPositive + model.inversePsrr);
    visit('conductance', ref, flowing, [rails[1], common], -dNegative);
    visit('conductance', ref, flowing, [rails[0], common], -dPositive);
  }
}
