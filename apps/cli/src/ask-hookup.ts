import { readQuantity, type Unit } from '@curvewright/quantity';
import type { Desk } from './desk.ts';
import type { HookupOptions } from './hookup.ts';

type Figure = Exclude<keyof HookupOptions, 'adapter' | 'board'>;

/** What is asked where nothing was said of the adapter, in this order. A file is known by its ending. */
const questions: readonly (readonly [Figure, Unit | null, string])[] = [
  ['player', 'V', 'Volts of the player at full scale, rms [1 V]'],
  ['generator', 'Ω', 'Its output impedance [100 Ω]'],
  ['ratio', null, 'What adapter do you have: its board file, or how many times it divides [10]'],
  ['adapterIn', 'Ω', 'Impedance into the adapter [4.7 kΩ]'],
  ['adapterOut', 'Ω', 'Impedance out of it [430 Ω]'],
  ['recorder', 'V', 'Volts that are full scale to the recorder, rms [1 V]'],
];

/** Asks for player, adapter and recorder; an empty answer takes what is usual. Null after an answer that is no value: it was complained of. */
export async function askHookup(desk: Desk): Promise<HookupOptions | null> {
  const figures: Partial<Record<Figure, number>> = {};
  let adapter: string | undefined;
  for (const [key, unit, question] of questions) {
    // A board file says all of an adapter.
    if (adapter !== undefined && key.startsWith('adapter')) continue;
    const answer = (await desk.ask(`${question}: `)).trim();
    if (answer === '') continue;
    if (unit === null && /\.ya?ml$/.test(answer)) {
      adapter = answer;
      continue;
    }
    const value = unit === null ? Number(answer) : valueOf(answer, unit);
    if (typeof value === 'string' || !(value > 0)) {
      desk.complain(`${answer}: ${typeof value === 'string' ? value : 'write a value above 0'}`);
      return null;
    }
    figures[key] = value;
  }
  return { ...figures, ...(adapter === undefined ? {} : { adapter }) };
}

function valueOf(text: string, unit: Unit): number | string {
  const reading = readQuantity(text, unit);
  return reading.ok ? reading.value : reading.message;
}
