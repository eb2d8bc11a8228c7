import type { OperatingPoint } from './bias.ts';
import { deviceWindows } from './device-windows.ts';
import { common, type Unknown } from './elements.ts';
import { looseShare, type LooseElement } from './loose-values.ts';
import type { Network } from './network.ts';

/** How a device's slopes follow loose values: straight with its own figures, and as its controls follow the bias. In flat storage for many frequencies. */
export interface BentDevice {
  /** Of each slope, row-major leads × controls: places of its row, of its control's plus and minus. */
  readonly entries: Int32Array;
  /** ∂slope/∂control, S/V, by control. */
  readonly byControl: readonly Float64Array[];
  /** V of each control for each value: `volts[value * controls + control]`. */
  readonly volts: Float64Array;
  /** S of each slope for those of the values that are the device's own. */
  readonly own: readonly { readonly value: number; readonly slopes: Float64Array }[];
  /** Room for yᵀ ∂A/∂slope x of each slope, and for its sum by control; re, im pairs. */
  readonly products: Float64Array;
  readonly ofControl: Float64Array;
}

/** V by which a control is moved to see how a device's slopes bend: a small part of kT/q. */
const nudge = 1e-4;

/** `place`: where an unknown's pair stands in x and y. `moves`: dx of the bias for each value. */
export function bentDevices(
  network: Network,
  point: OperatingPoint,
  elements: readonly LooseElement[],
  moves: readonly Float64Array[],
  place: (unknown: Unknown) => number,
): readonly BentDevice[] {
  const windows = deviceWindows(network, point.controls.slice());
  return network.devices.map(({ device, leads }, index): BentDevice => {
    const { at, currents } = windows[index]!;
    const width = device.controls.length;
    const slopesAt = (of: typeof device): Float64Array => {
      const slopes = new Float64Array(leads.length * width);
      of.evaluate(at, currents, slopes);
      return slopes;
    };
    const byControl = device.controls.map((_, k) => {
      const held = at[k]!;
      at[k] = held + nudge;
      const above = slopesAt(device);
      at[k] = held - nudge;
      const below = slopesAt(device);
      at[k] = held;
      return above.map((slope, n) => (slope - below[n]!) / (2 * nudge));
    });
    const volts = new Float64Array(elements.length * width);
    moves.forEach((move, v) => {
      const of = (lead: number): number => (leads[lead] === common ? 0 : move[leads[lead]!]!);
      device.controls.forEach(([plus, minus], k) => (volts[v * width + k] = of(plus) - of(minus)));
    });
    return {
      entries: Int32Array.from(
        leads.flatMap((row) =>
          device.controls.flatMap(([plus, minus]) => [place(row), place(leads[plus]!), place(leads[minus]!)]),
        ),
      ),
      byControl,
      volts,
      own: elements.flatMap((element, value) => {
        if (element.kind !== 'device' || element.index !== index) return [];
        const lower = slopesAt(element.lower);
        return [{ value, slopes: slopesAt(element.higher).map((slope, n) => (slope - lower[n]!) / (2 * looseShare)) }];
      }),
      products: new Float64Array(2 * leads.length * width),
      ofControl: new Float64Array(2 * width),
    };
  });
}

/** Fills `products`: y[row] · (x[plus] − x[minus]). */
export function writeProducts({ entries, products }: BentDevice, x: Float64Array, y: Float64Array): void {
  for (let n = 0; 3 * n < entries.length; n++) {
    const row = entries[3 * n]!;
    const plus = entries[3 * n + 1]!;
    const minus = entries[3 * n + 2]!;
    const xr = x[plus]! - x[minus]!;
    const xi = x[plus + 1]! - x[minus + 1]!;
    products[2 * n] = y[row]! * xr - y[row + 1]! * xi;
    products[2 * n + 1] = y[row]! * xi + y[row + 1]! * xr;
  }
}
