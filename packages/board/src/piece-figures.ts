import { readQuantity } from '@curvewright/quantity';
import type { Unit } from '@curvewright/quantity';
import { leakageOhms } from './schema/part-schema.ts';
import type { SwapEntry } from './schema/swap-schema.ts';
import type { Refuse } from './supply.ts';

/** A figure whose unit follows from the kind of the position, in SI; undefined where silent or refused. */
export function figureOf(entry: SwapEntry, key: 'value' | 'rated', unit: Unit, refuse: Refuse): number | undefined {
  const text = entry[key];
  if (text === undefined) return undefined;
  const reading = readQuantity(text, unit);
  if (!reading.ok) {
    refuse(reading.fault, key, reading.message);
    return undefined;
  }
  // A wire link in a resistor's place is 0 Ω.
  if (reading.value < 0 || (reading.value === 0 && unit !== 'Ω')) {
    refuse('out-of-range', key, `${key} reads ${text}; write a positive quantity`);
    return undefined;
  }
  return reading.value;
}

/** Ω across the leads, from a resistance or from a current at the rated volts; undefined where silent or refused. */
export function leakageOf(entry: SwapEntry, ratedVolts: number | undefined, refuse: Refuse): number | undefined {
  if (entry.leakage === undefined) return undefined;
  const ohms = leakageOhms(entry.leakage, ratedVolts);
  if (ohms === null) {
    refuse('missing-key', 'leakage', 'a leakage current is one at the rated volts; write rated, or leakage in Ω');
  }
  return ohms ?? undefined;
}

/** The build, where it is one that this kind of part comes in; undefined where silent or refused. */
export function buildOf(entry: SwapEntry, builds: readonly string[], refuse: Refuse): string | undefined {
  if (entry.build !== undefined && !builds.includes(entry.build)) {
    refuse('fit-mismatch', 'build', `${entry.build} is no build of this kind of part; write ${builds.join(', ')}`);
  }
  return entry.build;
}
