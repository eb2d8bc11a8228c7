import type { HzScale } from './chart-scale.ts';

/** Frequencies that carry a number, those that may be left out last. */
const frequencyMarks: readonly (readonly [hz: number, label: string])[] = [
  [100, '100'],
  [1000, '1k'],
  [10_000, '10k'],
  [10, '10'],
  [100_000, '100k'],
  [2, '2'],
  [20, '20'],
  [20_000, '20k'],
  [5, '5'],
  [50, '50'],
  [200, '200'],
  [500, '500'],
  [2000, '2k'],
  [5000, '5k'],
  [50_000, '50k'],
];

/** The axis with its marks and the numbers under it, `before` cells left of the plot and `behind` to the right. */
export function frequencyAxis(across: HzScale, before: number, behind: number): readonly string[] {
  const line = Array.from({ length: across.columns }, () => '─');
  const taken = Array.from({ length: across.columns + behind }, () => ' ');
  for (const [hz, label] of frequencyMarks) {
    const column = Math.round(across.columnOf(hz));
    line[column] = '┴';
    const starts = [label.length, label.length - 1].map((length) => Math.max(0, column - Math.floor(length / 2)));
    const start = starts.find((from) =>
      taken.slice(Math.max(0, from - 1), from + label.length + 1).every((cell) => cell === ' '),
    );
    if (start !== undefined) [...label].forEach((character, n) => (taken[start + n] = character));
  }
  return [`${' '.repeat(before - 1)}└${line.join('')}`, `${' '.repeat(before)}${taken.join('').trimEnd()} Hz`];
}
