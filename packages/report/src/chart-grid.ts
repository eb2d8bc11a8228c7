import { clip, padStart } from './cells.ts';
import type { DbScale, HzScale } from './chart-scale.ts';
import type { Ink } from './ink.ts';
import { decimals } from './numbers.ts';

/** A limit either way, dB, over its band in Hz. */
export interface ChartLimits {
  readonly good: number;
  readonly look: number;
  readonly from: number;
  readonly to: number;
}

/** Cells that a chart takes at most. */
export const widest: number = 110;

/** `+0.5 ` before the plot, ` +0.5 good` behind it. */
export const before: number = 6;
export const behind: number = 11;

/** The cells of a chart's plot, rows from the top, each with its ink. */
export type Grid = (readonly [text: string, ink?: Ink])[][];

export function emptyGrid({ top, bottom }: DbScale, { columns }: HzScale): Grid {
  return Array.from({ length: top - bottom + 1 }, () => Array.from({ length: columns }, () => [' '] as const));
}

export function axisLabel(multiple: number, { step, labelEvery }: DbScale): string {
  if (multiple % labelEvery !== 0) return `${' '.repeat(before - 1)}│`;
  const value = multiple * step;
  const text = decimals(value, labelEvery * step < 1 ? 1 : 0);
  return `${padStart(value > 0 ? `+${text}` : text, before - 2)} ┤`;
}

/** Returns what is written behind the rows of the limits. A limit that falls between two rows is left to the figures. */
export function drawLimits(
  grid: Grid,
  limits: ChartLimits | null,
  scale: DbScale,
  across: HzScale,
): ReadonlyMap<number, string> {
  const labels = new Map<number, string>();
  if (limits === null) return labels;
  const [from, to] = [Math.round(across.columnOf(limits.from)), Math.round(across.columnOf(limits.to))];
  const hairline = (value: number, label: string): void => {
    const multiple = Math.round(value / scale.step);
    const cells = grid[scale.top - multiple];
    const isOnItsRow = Math.abs(value / scale.step - multiple) < 0.3;
    if (cells === undefined || !isOnItsRow || labels.has(multiple)) return;
    for (let c = Math.max(0, from); c <= to && c < across.columns; c++) if (c % 2 === 0) cells[c] = ['·'];
    labels.set(multiple, clip(` ${label}`, behind));
  };
  for (const name of ['look', 'good'] as const) {
    const value = limits[name];
    hairline(value, `+${trimmed(value)} ${name}`);
    hairline(-value, `−${trimmed(value)} ${name}`);
  }
  hairline(0, 'curve');
  return labels;
}

function trimmed(value: number): string {
  return String(Number(value.toFixed(2)));
}
