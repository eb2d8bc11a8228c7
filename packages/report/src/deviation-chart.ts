import type { State } from '@curvewright/board';
import { padStart } from './cells.ts';
import { frequencyAxis } from './chart-axis.ts';
import { axisLabel, before, behind, drawLimits, emptyGrid, widest, type ChartLimits, type Grid } from './chart-grid.ts';
import { dbScale, hzScale, type DbScale, type HzScale } from './chart-scale.ts';
import { valueAt } from './figure/read-line.ts';
import { paint } from './ink.ts';

/** One state's deviation over ascending frequencies, Hz and dB. */
export interface ChartCurve {
  readonly state: State;
  readonly hz: readonly number[];
  readonly db: readonly number[];
  /** Between these, at the same frequencies, most boards lie. */
  readonly band?: { readonly low: readonly number[]; readonly high: readonly number[] };
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

/**
 * Deviation over log frequency, 2 Hz to 100 kHz, as lines of text: bands shaded, later curves over earlier ones, the limits
 * as dotted hairlines over their band (null draws none), `↑` and `↓` at the edge where a curve leaves the scale, a legend at the foot.
 */
export function deviationChart(curves: readonly ChartCurve[], limits: ChartLimits | null, size: ChartSize): string {
  const width = Math.min(size.width, widest);
  const across = hzScale(2, 100_000, Math.max(10, width - before - behind));
  const atLeast = limits?.look ?? 1;
  const [low, high] = reach(curves);
  const scale = dbScale(Math.min(-atLeast, low), Math.max(atLeast, high), size.rows, limits?.good ?? 1);
  const grid = emptyGrid(scale, across);
  const limitLabels = drawLimits(grid, limits, scale, across);
  for (const curve of curves) drawBand(grid, curve, scale, across);
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
  const points = curves.flatMap(({ hz, db, band }) =>
    [db, band?.low ?? [], band?.high ?? []].flatMap((each) => each.map((value, n) => ({ hz: hz[n] ?? 0, value }))),
  );
  const finite = points.filter(({ value }) => Number.isFinite(value));
  const low = finite.filter(({ hz }) => hz >= 10).reduce((least, { value }) => Math.min(least, value), 0);
  return [low, finite.reduce((most, { value }) => Math.max(most, value), 0)];
}

function drawBand(grid: Grid, { state, hz, band }: ChartCurve, scale: DbScale, across: HzScale): void {
  if (band === undefined) return;
  for (let c = 0; c < across.columns; c++) {
    const [low, high] = [valueAt(hz, band.low, across.hzOf(c)), valueAt(hz, band.high, across.hzOf(c))];
    if (low === null || high === null) continue;
    const top = scale.top - Math.round(high / scale.step);
    for (let row = Math.max(0, top); row <= scale.top - Math.round(low / scale.step); row++) {
      const cells = grid[row];
      if (cells !== undefined) cells[c] = ['░', state];
    }
  }
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
    const value = valueAt(hz, db, across.hzOf(c));
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

function legend(curves: readonly ChartCurve[], colour: boolean): string {
  const entries = curves.map(({ state }) => `${paint(strokes[state].flat.repeat(4), state, colour)} ${state}`);
  return `${' '.repeat(before)}${entries.join('   ')}`;
}
