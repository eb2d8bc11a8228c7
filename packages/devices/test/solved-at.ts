import type { Device } from '../src/index.ts';

/** What a device does at the given controls, in fresh arrays. */
export function solvedAt(
  device: Device,
  controls: readonly number[],
): { currents: Float64Array; slopes: Float64Array } {
  const currents = new Float64Array(device.leads.length);
  const slopes = new Float64Array(device.leads.length * device.controls.length);
  device.evaluate(Float64Array.from(controls), currents, slopes);
  return { currents, slopes };
}

export function storedAt(device: Device, controls: readonly number[]): { charges: Float64Array; slopes: Float64Array } {
  const charges = new Float64Array(device.leads.length);
  const slopes = new Float64Array(device.leads.length * device.controls.length);
  device.store(Float64Array.from(controls), charges, slopes);
  return { charges, slopes };
}

/** |a/b − 1|. */
export function relative(a: number, b: number): number {
  return Math.abs(a / b - 1);
}
