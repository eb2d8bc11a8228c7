import type { Job } from '@curvewright/board';
import { pulledReadings, type PastReading } from './past-reading.ts';

/** Lowest, median and highest of what was read. */
export interface PastRange {
  readonly count: number;
  readonly low: number;
  readonly median: number;
  readonly high: number;
}

/** Parts of one make, and of one decade of age. */
export interface PastGroup {
  readonly make: string;
  /** 40 stands for 40 to 49 years; null where the age is not known. */
  readonly decade: number | null;
  readonly pulled: number;
  readonly valueRatio: PastRange | null;
  readonly esrOhms: PastRange | null;
  readonly leakageOhms: PastRange | null;
  readonly hFE: PastRange | null;
  readonly faults: readonly { readonly name: string; readonly count: number }[];
}

/** What the pulled parts of a shop's jobs read, for one designator, type, build or kind. */
export interface PastAnswer {
  readonly asked: string;
  readonly readings: readonly PastReading[];
  readonly groups: readonly PastGroup[];
}

/** Readings in the order of the jobs; groups by make, then by age. */
export function pastAnswer(jobs: readonly Job[], asked: string): PastAnswer {
  const readings = jobs.flatMap(pulledReadings).filter((reading) => answers(reading, asked));
  const keyOf = ({ make, ageYears }: PastReading): string => `${make} ${decadeOf(ageYears) ?? ''}`;
  const keys = [...new Set(readings.map(keyOf))];
  const groups = keys.map((key) => groupOf(readings.filter((reading) => keyOf(reading) === key)));
  return { asked, readings, groups: groups.toSorted(byMakeAndAge) };
}

function answers({ ref, make, kind }: PastReading, asked: string): boolean {
  const word = asked.trim().toLowerCase().replaceAll(' ', '_');
  const refs = asked.split('/').map((each) => each.trim());
  return refs.includes(ref) || [make, kind].some((each) => each.toLowerCase() === word);
}

function groupOf(readings: readonly PastReading[]): PastGroup {
  const [{ make, ageYears }] = readings as [PastReading, ...PastReading[]];
  const names = [...new Set(readings.flatMap(({ faults }) => faults))];
  const range = (read: (reading: PastReading) => number | null): PastRange | null => rangeOf(readings.map(read));
  return {
    make,
    decade: decadeOf(ageYears),
    pulled: readings.length,
    valueRatio: range(({ valueRatio }) => valueRatio),
    esrOhms: range(({ esrOhms }) => esrOhms),
    leakageOhms: range((each) => each.leakageOhms),
    hFE: range(({ hFE }) => hFE),
    faults: names.map((name) => ({ name, count: readings.filter(({ faults }) => faults.includes(name)).length })),
  };
}

function rangeOf(values: readonly (number | null)[]): PastRange | null {
  const sorted = values.filter((value) => value !== null).toSorted((a, b) => a - b);
  const [low, high] = [sorted[0], sorted.at(-1)];
  if (low === undefined || high === undefined) return null;
  const middle = (sorted.length - 1) / 2;
  const median = (sorted[Math.floor(middle)]! + sorted[Math.ceil(middle)]!) / 2;
  return { count: sorted.length, low, median, high };
}

function decadeOf(years: number | null): number | null {
  return years === null ? null : 10 * Math.floor(years / 10);
}

function byMakeAndAge(a: PastGroup, b: PastGroup): number {
  return a.make.localeCompare(b.make, 'en') || (a.decade ?? Infinity) - (b.decade ?? Infinity) || 0;
}
