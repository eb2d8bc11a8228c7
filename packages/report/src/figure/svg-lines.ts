import { bandShare, lookStyles, secondLine, type LookStyle } from './figure-style.ts';
import type { Band, Series } from './figure.ts';
import type { Plate } from './plate.ts';
import type { Places } from './svg-axes.ts';
import { element } from './svg-text.ts';

/** In pixels. */
export type Point = readonly [x: number, y: number];

/** A line, its fine second one and its marks. */
export function svgSeries(plate: Plate, places: Places, series: Series): readonly string[] {
  const style = lookStyles[series.look];
  const runs = runsOf(plate, places, series);
  const beside = style.width / 2 + secondLine.gap + secondLine.width / 2;
  const second = runs.map((run) => pathOf(offset(run, beside))).join('');
  return [
    ...(style.width === 0 ? [] : [stroke(plate, style, style.width, runs.map(pathOf).join(''))]),
    ...(series.double && style.width > 0 ? [stroke(plate, style, secondLine.width, second)] : []),
    ...marks(plate, style, runs),
  ];
}

/** A path in the ink and the dashes of a look. */
export function stroke({ ink }: Plate, style: LookStyle, width: number, path: string): string {
  const isSolid = style.dash.length === 0;
  return element('path', {
    d: path,
    stroke: ink(style.ink),
    'stroke-width': width,
    'stroke-dasharray': isSolid ? undefined : style.dash.join(' '),
    'stroke-linejoin': 'round',
  });
}

export function svgBand(plate: Plate, places: Places, { look, x, low, high }: Band): string {
  const outline = [
    ...runsOf(plate, places, { x, y: high }).flat(),
    ...runsOf(plate, places, { x, y: low }).flat().toReversed(),
  ];
  return element('path', {
    d: `${pathOf(outline)}Z`,
    fill: plate.ink(lookStyles[look].ink),
    'fill-opacity': bandShare,
  });
}

/** The points in pixels, broken where one is no number. Far outside the plot they are drawn in, which clips them. */
export function runsOf(
  { top, bottom }: Plate,
  { across, up }: Places,
  { x, y }: Pick<Series, 'x' | 'y'>,
): readonly (readonly Point[])[] {
  const [highest, lowest] = [top - (bottom - top), bottom + (bottom - top)];
  const runs: Point[][] = [[]];
  for (let i = 0; i < x.length; i++) {
    const [h, v] = [across(x[i] ?? NaN), up(y[i] ?? NaN)];
    if (!Number.isFinite(h) || Number.isNaN(v)) runs.push([]);
    else runs.at(-1)?.push([h, Math.min(lowest, Math.max(highest, v))]);
  }
  return runs.filter(({ length }) => length > 0);
}

function pathOf(run: readonly Point[]): string {
  return run.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('');
}

/** The line moved to its left-hand side, seen along it: upwards where it runs to the right. */
function offset(run: readonly Point[], by: number): readonly Point[] {
  return run.map(([x, y], i) => {
    const [before, after] = [run[i - 1] ?? [x, y], run[i + 1] ?? [x, y]];
    const [dx, dy] = [after[0] - before[0], after[1] - before[1]];
    const length = Math.hypot(dx, dy) || 1;
    return [x + (by * dy) / length, y - (by * (dx || length)) / length];
  });
}

/** A line of no more points than this shows where it was computed. */
const fewPoints = 12;

/** Pixels between marks along x. */
const markDistance = 64;

function marks(plate: Plate, style: LookStyle, runs: readonly (readonly Point[])[]): readonly string[] {
  const points = runs.flat();
  const onEvery = style.width === 0 || points.length <= fewPoints;
  const mark = style.mark ?? (onEvery ? 'dot' : null);
  if (mark === null) return [];
  return (onEvery ? points : spaced(points, plate.right - markDistance / 8)).map(([x, y]) =>
    svgMark(plate, style, mark, x, y),
  );
}

export function svgMark({ ink }: Plate, style: LookStyle, mark: 'open square' | 'dot', x: number, y: number): string {
  return mark === 'dot'
    ? element('circle', { cx: x, cy: y, r: 3, fill: ink(style.ink) })
    : element('rect', {
        ...{ x: x - 3, y: y - 3, width: 6, height: 6 },
        ...{ fill: ink('paper'), stroke: ink(style.ink), 'stroke-width': 1.25 },
      });
}

/** None beyond `until`: half a mark at the plot's edge would be taken for another one. */
function spaced(points: readonly Point[], until: number): readonly Point[] {
  const kept: Point[] = [];
  const start = points[0]?.[0] ?? 0;
  for (const point of points) {
    const next = (kept.at(-1)?.[0] ?? start - markDistance / 2) + markDistance;
    if (point[0] >= next && point[0] <= until) kept.push(point);
  }
  return kept;
}
