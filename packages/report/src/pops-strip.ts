import type { ChannelPops, PopsAnswer } from '@curvewright/capture';
import { cellsOf, padEnd } from './cells.ts';
import { paint } from './ink.ts';
import { decimals } from './numbers.ts';
import type { PageOptions } from './page-options.ts';

const bars = '▁▂▃▄▅▆▇█';

/** Of steps and bursts, below the bars. */
const marks = { click: '', step: 's', burst: 'b' } as const;

/** The hits over time, channel by channel: the highest of each cell as a bar, on a logarithm from the lowest hit to the highest; below it where steps and bursts are. */
export function popsStrip({ channels }: PopsAnswer, options: PageOptions): readonly string[] {
  const minutes = Math.max(...channels.map((channel) => channel.minutes));
  const heights = channels.flatMap(({ hits }) => hits.map(({ share }) => Math.abs(share)));
  if (heights.length === 0 || !(minutes > 0)) return [];
  const label = Math.max(...channels.map(({ name }) => cellsOf(name))) + 2;
  const cells = options.width - label;
  const range = reach(heights);
  const ends = ['0', `${decimals(minutes, minutes < 10 ? 1 : 0)} min`] as const;
  return [
    ...channels.flatMap((channel) => rows(channel, { minutes, cells, label, range }, options)),
    ' '.repeat(label) + ends[0] + ends[1].padStart(cells - ends[0].length),
  ];
}

interface Scale {
  readonly minutes: number;
  readonly cells: number;
  readonly label: number;
  readonly range: readonly [low: number, high: number];
}

function rows(
  { name, hits }: ChannelPops,
  { minutes, cells, label, range: [low, high] }: Scale,
  { colour }: PageOptions,
): readonly string[] {
  const highest = new Float64Array(cells);
  const kinds = Array.from({ length: cells }, () => '');
  for (const { s, share, kind } of hits) {
    const cell = Math.min(cells - 1, Math.floor((s / 60 / minutes) * cells));
    highest[cell] = Math.max(highest[cell] ?? 0, Math.abs(share));
    if (kinds[cell] !== 'b') kinds[cell] = marks[kind] || (kinds[cell] ?? '');
  }
  const bar = (height: number): string => {
    if (height === 0) return '·';
    const along = high > low ? Math.log(height / low) / Math.log(high / low) : 1;
    return bars[Math.min(bars.length - 1, Math.floor(along * bars.length))] ?? '';
  };
  const drawn = Array.from(highest, bar).join('');
  const told = kinds.map((kind) => kind || ' ').join('');
  return [
    padEnd(name, label) + paint(drawn, 'rebuilt', colour),
    ...(told.trim() === '' ? [] : [`${' '.repeat(label)}${told}`.trimEnd()]),
  ];
}

function reach(values: readonly number[]): readonly [number, number] {
  let [low, high] = [Infinity, 0];
  for (const value of values) [low, high] = [Math.min(low, value), Math.max(high, value)];
  return [low, high];
}
