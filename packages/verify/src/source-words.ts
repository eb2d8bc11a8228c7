import type { Source } from '@curvewright/network';
import { printQuantity } from '@curvewright/quantity';

/** What stands at the input, as every answer that depends on it prints it: `shorted`, `1 kΩ`, `MM-A (800 Ω, 480 mH, 150 pF)`. */
export function sourceWords({ resistance, inductance, capacitance }: Source, cartridge?: string): string {
  const values = [
    ...(resistance > 0 ? [printQuantity(resistance, 'Ω')] : []),
    ...(inductance > 0 ? [printQuantity(inductance, 'H')] : []),
    ...(capacitance > 0 ? [printQuantity(capacitance, 'F')] : []),
  ].join(', ');
  if (values === '') return 'shorted';
  return cartridge === undefined ? values : `${cartridge} (${values})`;
}

/** V rms at the input at 1 kHz: the programme that hiss and hum are held against. */
export const programmeVolts: number = 5e-3;

export const programmeWords: string = '5 mV rms at 1 kHz at the input';
