import type { SheetRow } from '../../contract/compute.ts';

/** From here on a capacitor is worth a warning, F: some 5 mJ at 10 V. Common practice, no source. */
const leastFarads = 100e-6;

/** Whether a row's capacitor, drawn or fitted, keeps a charge that bites a meter or a transistor after the mains is off. */
export function keepsCharge({ kind, fields, movable }: SheetRow): boolean {
  if (kind !== 'capacitor') return false;
  const values = fields
    .filter(({ path }) => path.endsWith('.value') && !path.includes('esr'))
    .map(({ value }) => value);
  return [movable, ...values].some((farads) => farads !== null && farads >= leastFarads);
}
