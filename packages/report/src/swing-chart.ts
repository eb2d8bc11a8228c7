import { padStart } from './cells.ts';
import { paint } from './ink.ts';
import { decimals, quantity } from './numbers.ts';

/** A voltage over time: s ascending and V. */
export type Swing = readonly { readonly s: number; readonly volts: number }[];

const rows = 9;
/** `−12.5 ` and the axis before the plot. */
const before = 8;

/** A voltage from 0 s to `until` s as lines of text; each column spans what the voltage does in its share of the time. */
export function swingChart(
  swing: Swing,
  until: number,
  { width, colour }: { width: number; colour: boolean },
): readonly string[] {
  const columns = width - before - 1;
  const spans = Array.from({ length: columns }, (_, c) =>
    spanOf(swing, (until * c) / columns, (until * (c + 1)) / columns),
  );
  const top = Math.max(0, ...spans.map(([, high]) => high));
  const bottom = Math.min(0, ...spans.map(([low]) => low));
  const step = (top - bottom) / (rows - 1) || 1;
  const rowOf = (volts: number): number => Math.round((top - volts) / step);
  const lines = Array.from({ length: rows }, (_, row) => {
    const plot = spans.map(([low, high]) => {
      const [first, last] = [rowOf(high), rowOf(low)];
      if (row < first || row > last) return row === rowOf(0) ? '┄' : ' ';
      return first === last ? '━' : '┃';
    });
    const labelled = row === 0 || row === rows - 1 || row === rowOf(0);
    const label = labelled ? decimals(row === rowOf(0) ? 0 : top - row * step, 2) : '';
    return `${padStart(label, before - 1)}${labelled ? '┤' : '│'}${paint(plot.join(''), 'rebuilt', colour)}`.trimEnd();
  });
  const end = quantity(until, 's', 2);
  return [
    padStart('V', before - 1),
    ...lines,
    `${' '.repeat(before - 1)}└${'─'.repeat(columns)}`,
    `${' '.repeat(before)}0${padStart(end, columns - 1)}`,
  ];
}

/** Lowest and highest between two instants, straight between the points; what lies after the last point keeps its value. */
function spanOf(swing: Swing, from: number, to: number): readonly [low: number, high: number] {
  const inside = swing.filter(({ s }) => s > from && s < to).map(({ volts }) => volts);
  const all = [valueAt(swing, from), ...inside, valueAt(swing, to)];
  return [Math.min(...all), Math.max(...all)];
}

function valueAt(swing: Swing, at: number): number {
  const next = swing.findIndex(({ s }) => s >= at);
  if (next < 0) return swing.at(-1)?.volts ?? 0;
  const [a, b] = [swing[next - 1], swing[next]];
  if (a === undefined || b === undefined) return b?.volts ?? 0;
  return a.volts + ((b.volts - a.volts) * (at - a.s)) / (b.s - a.s);
}
