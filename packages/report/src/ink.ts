import type { Level } from '@curvewright/verify';
import { inks as figureInks } from './figure/figure-style.ts';

export type Ink = 'drawn' | 'found' | 'rebuilt' | 'fail';

/** Inks for the states' lines and the verdicts' marks: each 3:1 or better on black and on white paper, since a terminal may be either. */
const inks: Readonly<Record<Ink, string>> = {
  drawn: figureInks.drawn.light,
  found: figureInks.found.light,
  rebuilt: figureInks.rebuilt.light,
  fail: '#C0392B',
};

/** The text in an ink (24-bit SGR of ISO 8613-6), or as it is where `colour` is false. */
export function paint(text: string, ink: Ink | undefined, colour: boolean): string {
  if (!colour || ink === undefined || text === '') return text;
  const [red, green, blue] = [1, 3, 5].map((from) => parseInt(inks[ink].slice(from, from + 2), 16));
  return `\u001b[38;2;${red};${green};${blue}m${text}\u001b[39m`;
}

export const markOf: Readonly<Record<Level, string>> = { good: '●', look: '▲', fail: '✕', 'not measured': '–' };

export const inkOf: Readonly<Record<Level, Ink>> = {
  good: 'rebuilt',
  look: 'found',
  fail: 'fail',
  'not measured': 'drawn',
};
