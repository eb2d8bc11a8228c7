import type { Figure } from './figure.ts';

/** A verdict, worst last but for `not measured`, which stands between look and fail. */
export type Level = 'good' | 'look' | 'not measured' | 'fail';

const order: readonly Level[] = ['good', 'look', 'not measured', 'fail'];

export function worstLevel(levels: readonly Level[]): Level {
  return order[Math.max(0, ...levels.map((level) => order.indexOf(level)))]!;
}

export function levelOf(figure: Figure, value: number = figure.value): Level {
  if (marginTo(figure, figure.good, value) >= 0) return 'good';
  return marginTo(figure, figure.look, value) >= 0 ? 'look' : 'fail';
}

/** Distance to a limit in the figure's unit, positive inside it. */
export function marginTo(figure: Figure, limit: number, value: number = figure.value): number {
  switch (figure.side) {
    case 'at least':
      return value - limit;
    case 'at most':
      return limit - value;
    case 'within':
      return limit - Math.abs(value);
  }
}
