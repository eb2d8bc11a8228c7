import type { CurveFigure } from './figure.ts';
import type { Plate } from './plate.ts';
import type { Places } from './svg-axes.ts';
import { runsOf, type Point } from './svg-lines.ts';
import { textWidth } from './svg-text.ts';

/** Where a word may stand: the left end of its base line. */
export interface WordPlace {
  readonly x: number;
  readonly y: number;
}

export interface Word {
  readonly text: string;
  readonly size: number;
}

/** A figure's lines as points so close that none runs through a word unnoticed. */
export function tracedLines(plate: Plate, places: Places, { series }: CurveFigure): readonly Point[] {
  return series.flatMap((each) => runsOf(plate, places, each).flatMap(filled));
}

/** The place where fewest lines run through a word, the first of equals; none where it never lies within the plate. */
export function freePlace(
  plate: Plate,
  lines: readonly Point[],
  { text, size }: Word,
  candidates: readonly WordPlace[],
): WordPlace | undefined {
  const width = textWidth(text, size);
  const crossings = ({ x, y }: WordPlace): number =>
    lines.filter(([h, v]) => h >= x - 2 && h <= x + width + 2 && v >= y - size && v <= y + size * 0.3).length;
  const [best] = candidates
    .filter(({ x, y }) => x >= plate.left && x + width <= plate.width && y - size >= plate.top && y <= plate.bottom)
    .map((place) => ({ place, crossed: crossings(place) }))
    .toSorted((a, b) => a.crossed - b.crossed);
  return best?.place;
}

/** Pixels between points along a line. */
const stride = 4;

function filled(run: readonly Point[]): readonly Point[] {
  return run.flatMap(([x, y], i) => {
    const [nextX, nextY] = run[i + 1] ?? [x, y];
    const pieces = Math.max(1, Math.ceil(Math.hypot(nextX - x, nextY - y) / stride));
    return Array.from({ length: pieces }, (_, k): Point => [
      x + ((nextX - x) * k) / pieces,
      y + ((nextY - y) * k) / pieces,
    ]);
  });
}
