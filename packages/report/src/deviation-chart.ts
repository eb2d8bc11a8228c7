import type { State } from '@curvewright/board';
import { clip, padStart } from './cells.ts';
import { frequencyAxis } from './chart-axis.ts';
import { dbScale, hzScale, type DbScale, type HzScale } from './chart-scale.ts';
import { paint, type Ink } from './ink.ts';
import { decimals } from './numbers.ts';

/** One state's deviation over ascending frequencies, Hz and dB. */
export interface ChartCurve {
  readonly state: State;
  readonly hz: readonly number[];
  readonly db: readonly number[];
}

/** A limit either way, dB, over its band in Hz. */
export interface ChartLimits {
  readonly good: number;
  readonly look: number;
  readonly from: number;
  readonly to: number;
}

export interface ChartSize {
  /** Cells; what is more than 110 is left free. */
  readonly width: number;
  /** Rows between top and axis at most. */
  readonly rows: number;
  readonly colour: boolean;
}

interface Stroke {
  readonly flat: string;
  readonly upright: string;
  /** Corners, named by the two sides they join. */
  readonly leftDown: string;
  readonly leftUp: string;
  readonly rightDown: string;
  readonly rightUp: string;
}

/** Thin, dashed, thick: told apart without colour. */
const strokes: Readonly<Record<State, Stroke>> = {
  drawn: { flat: '─', upright: '│', leftDown: '╮', leftUp: '╯', rightDown: '╭', rightUp: '╰' },
  found: { flat: '╌', upright: '╎', leftDown: '┐', leftUp: '┘', rightDown: '┌', rightUp: '└' },
  rebuilt: { flat: '━', upright: '┃', leftDown: '┓', leftUp: '┛', rightDown: '┏', rightUp: '┗' },
};

const widest = 110;
/** `+0.5 ` before the plot, ` +0.5 good` behind it. */
const before = 6;
const behind = 11;

type Grid = (readonly [text: string, ink?: Ink])[][];

/**
 * Deviation over log frequency, 2 Hz to 100 kHz, as lines of text: later curves over earlier ones, the limits as
 * dotted hairlines over their band (null draws none), `↑` and `↓` at the edge where a curve leaves the scale, a legend at the foot.
 */
export function deviationChart(curves: readonly ChartCurve[], limits: ChartLimits | null, size: ChartSize): string {
  const width = Math.min(size.width, widest);
  const across = hzScale(2, 100_000, Math.max(10, width - before - behind));
  const atLeast = limits?.look ?? 1;
  const [low, high] = reach(curves);
  const scale = dbScale(Math.min(-atLeast, low), Math.max(atLeast, high), size.rows, limits?.good ?? 1);
  const grid: Grid = Array.from({ length: scale.top - scale.bottom + 1 }, () =>
    Array.from({ length: across.columns }, () => [' '] as const),
  );
  const limitLabels = drawLimits(grid, limits, scale, across);
  for (const curve of curves) drawCurve(grid, curve, scale, across);
  const rows = grid.map((cells, row) => {
    const multiple = scale.top - row;
    const plot = cells.map(([text, ink]) => paint(text, ink, size.colour)).join('');
    return `${axisLabel(multiple, scale)}${plot}${limitLabels.get(multiple) ?? ''}`;
  });
  const lines = [
    `${padStart('dB', before - 2)}`,
    ...rows,
    ...frequencyAxis(across, before, behind),
    legend(curves, size.colour),
  ];
  return lines.map((line) => line.trimEnd()).join('\n');
}

/** Lowest and highest value to be shown: peaks anywhere, losses from 10 Hz up, since below that every stage falls away. */
function reach(curves: readonly ChartCurve[]): readonly [low: number, high: number] {
  const points = curves.flatMap(({ hz, db }) => db.map((value, n) => ({ hz: hz[n] ?? 0, value })));
  const finite = points.filter(({ value }) => Number.isFinite(value));
  const low = finite.filter(({ hz }) => hz >= 10).reduce((least, { value }) => Math.min(least, value), 0);
  return [low, finite.reduce((most, { value }) => Math.max(most, value), 0)];
}

function axisLabel(multiple: number, { step, labelEvery }: DbScale): string {
  if (multiple % labelEvery !== 0) return `${' '.repeat(before - 1)}│`;
  const value = multiple * step;
  const text = decimals(value, labelEvery * step < 1 ? 1 : 0);
  return `${padStart(value > 0 ? `+${text}` : text, before - 2)} ┤`;
}

/** Returns what is written behind the rows of the limits. A limit that falls between two rows is left to the figures. */
function drawLimits(
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

function drawCurve(grid: Grid, { state, hz, db }: ChartCurve, scale: DbScale, across: HzScale): void {
  const stroke = strokes[state];
  const [first, last] = [0, grid.length - 1];
  const put = (row: number, column: number, text: string): void => {
    const cells = grid[row];
    if (cells !== undefined) cells[column] = [text, state];
  };
  let previous: number | null = null;
  for (let c = 0; c < across.columns; c++) {
    const value = valueAt(across.hzOf(c), hz, db);
    if (value === null) {
      previous = null;
      continue;
    }
    const exact = scale.top - Math.round(value / scale.step);
    const row = Math.min(last, Math.max(first, exact));
    if (previous === null || previous === row) {
      put(row, c, stroke.flat);
    } else {
      const rises = row < previous;
      put(previous, c, rises ? stroke.leftUp : stroke.leftDown);
      put(row, c, rises ? stroke.rightDown : stroke.rightUp);
      for (let r = Math.min(row, previous) + 1; r < Math.max(row, previous); r++) put(r, c, stroke.upright);
    }
    if (exact !== row) put(row, c, exact < first ? '↑' : '↓');
    previous = row;
  }
}

/** Straight between the points over log frequency; null outside them and where a point is no number. */
function valueAt(at: number, hz: readonly number[], db: readonly number[]): number | null {
  // Rounding may carry the end columns just past the first and the last point.
  const found = hz.findIndex((point) => point >= at * (1 - 1e-9));
  if (found < 0) return null;
  const [x1 = at, y1 = NaN] = [hz[found], db[found]];
  if (Math.abs(x1 / at - 1) < 1e-9) return Number.isNaN(y1) ? null : y1;
  if (found === 0) return null;
  const [x0 = at, y0 = NaN] = [hz[found - 1], db[found - 1]];
  const value = y0 + ((y1 - y0) * Math.log(at / x0)) / Math.log(x1 / x0);
  return Number.isNaN(value) ? null : value;
}

function legend(curves: readonly ChartCurve[], colour: boolean): string {
  const entries = curves.map(({ state }) => `${paint(strokes[state].flat.repeat(4), state, colour)} ${state}`);
  return `${' '.repeat(before)}${entries.join('   ')}`;
}
