import type { Limits } from '@curvewright/board';
import { db, decimals, frequency } from '../numbers.ts';
import { seriesName, type Band, type Series } from './figure.ts';
import { furthestPoint, valueAt } from './read-line.ts';

/** Sentences joined, those without content left out. */
export function sentences(...parts: readonly string[]): string {
  return parts.filter((part) => part !== '').join(' ');
}

/** `rebuilt, left: −1.12 dB at 20 Hz, +0.01 dB at 10 kHz.` for frequencies that the line reaches. */
export function levelWords(series: Series, frequencies: readonly number[]): string {
  const told = frequencies.flatMap((hz) => {
    const level = valueAt(series.x, series.y, hz);
    return level === null ? [] : [`${db(level)} dB at ${frequency(hz)}`];
  });
  return told.length === 0 ? '' : `${seriesName(series)}: ${told.join(', ')}.`;
}

/** What is furthest from 0 in a limit's band. */
export function furthestWords({ x, y }: Series, { from, to }: { readonly from: number; readonly to: number }): string {
  const worst = furthestPoint(x, y, from, to);
  if (worst === null) return '';
  return `Furthest between ${frequency(from)} and ${frequency(to)}: ${db(worst.y)} dB at ${frequency(worst.x)}.`;
}

export function eitherWayWords(limits: Limits, name: 'deviation' | 'balance'): string {
  const { good, look, from, to } = limits[name];
  return `Good within ±${short(good)} dB, look within ±${short(look)} dB, from ${frequency(from)} to ${frequency(to)}.`;
}

export function bandWords({ name, x, low, high }: Band, frequencies: readonly number[]): string {
  const told = frequencies.flatMap((hz) => {
    const [from, to] = [valueAt(x, low, hz), valueAt(x, high, hz)];
    return from === null || to === null ? [] : [`${db(from)} to ${db(to)} dB at ${frequency(hz)}`];
  });
  return `${name}: ${told.join(', ')}.`;
}

/** At most three decimals, no trailing zeros. */
function short(value: number): string {
  return decimals(value, 3).replace(/\.?0+$/, '');
}
