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

/** Fewer points than this make no chart. */
const chartFrom = 12;

const targets: Readonly<Record<CurveAnswer['target'], string>> = {
  riaa: 'the RIAA curve',
  'riaa-1976': 'the RIAA curve with the 7950 µs term',
};

/** Gain, phase and deviation as a table, with a chart over it where there are points enough to draw one. */
export function curvePage(curve: TitledCurve, options: PageOptions): string {
  const width = pageWidth(options);
  const { title, state, target, channels } = curve;
  return [
    ...wrap(`${oneLine(title)}, as ${state}, against ${targets[target]}`, width),
    '─'.repeat(width),
    ...chart(curve, { ...options, width }),
    ...curveTable(curve, { ...options, width }),
  ].join('\n');
}

/** The channel that is furthest off in the audible band. */
function chart({ state, channels }: TitledCurve, { width, colour }: PageOptions): readonly string[] {
  const off = channels.map(({ points }) =>
    Math.max(0, ...points.filter(({ hz }) => hz >= 20 && hz <= 20_000).map(({ deviationDb }) => Math.abs(deviationDb))),
  );
  const channel = channels[off.indexOf(Math.max(...off))];
  if (channel === undefined || channel.points.length < chartFrom) return [];
  const points = channel.points.toSorted((a, b) => a.hz - b.hz);
  const drawn = { state, hz: points.map(({ hz }) => hz), db: points.map(({ deviationDb }) => deviationDb) };
  const which = channels.length > 1 ? `, ${channel.name}, the channel further off` : '';
  return [
    ...wrap(`Deviation${which}; straight between the points of the table`, width),
    ...deviationChart([drawn], null, { width, rows: 11, colour }).split('\n'),
    '',
  ];
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
