import type { State } from '@curvewright/board';
import type { CurveAnswer } from '@curvewright/verify';
import { oneLine, wrap } from './cells.ts';
import { deviationChart } from './deviation-chart.ts';
import { db, decimals, none, quantity } from './numbers.ts';
import { pageWidth, type PageOptions } from './page-options.ts';
import { channelLetter } from './states-shown.ts';
import { tableLines, type Column } from './table.ts';

/** A curve with the board or job and the state it was computed for. */
export interface TitledCurve extends CurveAnswer {
  readonly title: string;
  readonly state: State;
}

/** A curve as a page shows it: with the deviation of every state of the board on a fine grid, for the chart of before and after. */
export interface ChartedCurve extends TitledCurve {
  readonly states: readonly {
    readonly state: State;
    readonly hz: readonly number[];
    /** dB, in the order of `channels`. */
    readonly channels: readonly (readonly number[])[];
  }[];
}

const targets: Readonly<Record<CurveAnswer['target'], string>> = {
  riaa: 'the RIAA curve',
  'riaa-1976': 'the RIAA curve with the 7950 µs term',
};

/** Gain, phase and deviation as a table, with a chart of the deviation before and after over it. */
export function curvePage(curve: ChartedCurve, options: PageOptions): string {
  const width = pageWidth(options);
  const { title, state, target } = curve;
  return [
    ...wrap(`${oneLine(title)}, as ${state}, against ${targets[target]}`, width),
    '─'.repeat(width),
    ...chart(curve, { ...options, width }),
    ...curveTable(curve, { ...options, width }),
  ].join('\n');
}

/** The channel that is furthest off in the audible band, in any state. */
function chart({ states, channels }: ChartedCurve, { width, colour }: PageOptions): readonly string[] {
  const off = channels.map((_, i) => Math.max(0, ...states.map(({ hz, channels: db }) => furthest(hz, db[i] ?? []))));
  const index = off.indexOf(Math.max(...off));
  const channel = channels[index];
  if (channel === undefined) return [];
  const curves = states.map(({ state, hz, channels: db }) => ({ state, hz, db: db[index] ?? [] }));
  const which = channels.length > 1 ? `, ${channel.name}, the channel further off` : '';
  return [
    ...wrap(`Deviation${which}`, width),
    ...deviationChart(curves, null, { width, rows: 11, colour }).split('\n'),
    '',
  ];
}

function furthest(hz: readonly number[], db: readonly number[]): number {
  return Math.max(0, ...db.filter((_, n) => (hz[n] ?? 0) >= 20 && (hz[n] ?? 0) <= 20_000).map(Math.abs));
}

function curveTable({ channels }: TitledCurve, options: PageOptions): readonly string[] {
  const several = channels.length > 1;
  const columns: readonly Column[] = [
    { align: 'right' },
    { align: 'right' },
    ...channels.flatMap((): Column[] => [{ align: 'right', gap: 4 }, { align: 'right' }, { align: 'right' }]),
  ];
  const letter = (name: string): string => (several ? `${channelLetter(name)} ` : '');
  const heads = ['', 'target', ...channels.flatMap(({ name }) => [`${letter(name)}gain`, 'phase', 'deviation'])];
  const units = ['Hz', 'dB', ...channels.flatMap(() => ['dB', '°', 'dB'])];
  const rows = (channels[0]?.points ?? []).map(({ hz, targetDb }, n) => [
    quantity(hz, 'Hz', 4).replace(/ Hz$/, ''),
    db(targetDb),
    ...channels.flatMap(({ points }) => {
      const point = points[n];
      return point === undefined
        ? [none, none, none]
        : [decimals(point.gainDb, 2), decimals(point.phaseDeg, 0), db(point.deviationDb)];
    }),
  ]);
  return tableLines(columns, [heads, units, ...rows], options);
}
