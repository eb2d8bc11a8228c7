import type { CheckAnswer, Finding, Level, StateAnswer } from '@curvewright/verify';
import { inkOf, markOf } from './ink.ts';
import { db, decimals, frequency, quantity } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { channelLetter, statesShown } from './states-shown.ts';
import { tableLines, type Cell, type Column } from './table.ts';

/** One figure of the sheet: what it is called, how it reads from a state, which findings judge it. */
interface FigureRow {
  readonly label: string;
  readonly unit: string;
  readonly read: (state: StateAnswer, channel: number) => string;
  readonly judgedBy: (finding: Finding) => boolean;
  /** False for a figure of all channels together, which stands in the last one's place. */
  readonly perChannel?: false;
}

const spotFrequencies: readonly number[] = [20, 30, 50, 100, 10_000, 15_000, 20_000];

function figureRows(answer: CheckAnswer): readonly FigureRow[] {
  const { states, channels } = answer;
  const what =
    (name: Finding['what']) =>
    (finding: Finding): boolean =>
      finding.what === name;
  const never = (): boolean => false;
  return [
    {
      label: 'gain 1 kHz',
      unit: 'dB',
      read: (state, c) => decimals(state.channels[c]?.gainDb ?? NaN, 2),
      judgedBy: what('gain'),
    },
    {
      label: 'worst deviation',
      unit: 'dB',
      read: (state, c) => db(state.channels[c]?.worstDeviationDb ?? NaN),
      judgedBy: what('deviation'),
    },
    { label: '  at', unit: '', read: (state, c) => frequency(state.channels[c]?.worstHz ?? NaN), judgedBy: never },
    ...spotFrequencies.map((hz): FigureRow => ({
      label: quantity(hz, 'Hz'),
      unit: 'dB',
      read: (state, c) => db(state.channels[c]?.points.find((point) => point.hz === hz)?.deviationDb ?? NaN),
      judgedBy: (finding) =>
        (finding.what === 'bass' || finding.what === 'treble') && finding.where === `at ${quantity(hz, 'Hz')}`,
    })),
    {
      label: 'roll-off −3 dB',
      unit: '',
      read: (state, c) => edge(state.channels[c]?.rolloffHz),
      judgedBy: never,
    },
    {
      label: '  and above',
      unit: '',
      read: (state, c) => edge(state.channels[c]?.rolloffHighHz),
      judgedBy: never,
    },
    ...(states.drawn.channels[0]?.subsonicPeaks ?? []).flatMap(({ fromHz, toHz }, n): FigureRow[] => [
      {
        label: `peak ${quantity(fromHz, 'Hz').replace(' Hz', '')}–${quantity(toHz, 'Hz')}`,
        unit: 'dB',
        read: (state, c) => db(state.channels[c]?.subsonicPeaks[n]?.db ?? NaN),
        judgedBy: what(n === 0 ? 'subsonic_low' : 'subsonic_high'),
      },
      {
        label: '  at',
        unit: '',
        read: (state, c) => frequency(state.channels[c]?.subsonicPeaks[n]?.hz ?? NaN),
        judgedBy: never,
      },
    ]),
    ...(channels.length < 2
      ? []
      : [
          {
            label: 'balance',
            unit: 'dB',
            read: (state: StateAnswer, c: number) =>
              c < channels.length - 1 || state.balanceDb === null ? '' : decimals(state.balanceDb, 2),
            judgedBy: what('balance'),
            perChannel: false as const,
          },
        ]),
    ...furtherRows(what),
    ...stabilityRows(answer),
  ];
}

/** Of all channels together the sharpest pair of poles, and of each its stated loop's margin. */
function stabilityRows({ states, channels }: CheckAnswer): readonly FigureRow[] {
  const sharpest: FigureRow = {
    label: 'highest Q',
    unit: '',
    read: ({ stability }, c) => (c < channels.length - 1 || stability === null ? '' : qWords(stability)),
    judgedBy: ({ what, unit }) => what === 'stability' && unit === 'Q',
    perChannel: false,
  };
  const margin: FigureRow = {
    label: 'loop margin',
    unit: '°',
    read: ({ stability }, c) => {
      const own = stability?.margins.find(({ channel }) => channel === null || channel === channels[c]);
      return decimals(own?.marginDeg ?? NaN, 0);
    },
    judgedBy: ({ what, unit }) => what === 'stability' && unit === '°',
  };
  return (states.drawn.stability?.margins.length ?? 0) > 0 ? [sharpest, margin] : [sharpest];
}

function qWords({ stable, q }: NonNullable<StateAnswer['stability']>): string {
  if (!stable) return 'swings';
  return q === null ? 'none' : decimals(q, 2);
}

function furtherRows(what: (name: Finding['what']) => FigureRow['judgedBy']): readonly FigureRow[] {
  const row = (
    label: string,
    unit: string,
    name: Finding['what'],
    key: 'hissUv' | 'humDb' | 'crosstalkDb' | 'overloadMv' | 'thdPercent' | 'settleS',
    count: number,
  ): FigureRow => ({
    label,
    unit,
    read: (state, c) => decimals(state.channels[c]?.[key] ?? NaN, count),
    judgedBy: what(name),
  });
  return [
    row('hiss, A-weighted', 'µV', 'hiss', 'hissUv', 2),
    row('hum re 5 mV', 'dB', 'hum', 'humDb', 1),
    row('crosstalk 1 kHz', 'dB', 'crosstalk', 'crosstalkDb', 0),
    row('overload', 'mV', 'overload', 'overloadMv', 0),
    row('THD at 5 mV', '%', 'distortion', 'thdPercent', 3),
    row('settles in', 's', 'settle', 'settleS', 1),
    {
      label: 'input 1 kHz',
      unit: 'kΩ',
      read: (state, c) => decimals((state.channels[c]?.inputOhms ?? NaN) / 1000, 1),
      judgedBy: what('input_resistance'),
    },
  ];
}

/** Null: there is none between 2 Hz and 100 kHz. */
function edge(hz: number | null | undefined): string {
  return hz === undefined ? '' : hz === null ? 'none' : frequency(hz);
}

/** What the stage does, a line a figure, the channels of each state side by side. */
export function figureTableAcross(answer: CheckAnswer, options: PageOptions): readonly string[] {
  const { channels } = answer;
  const shown = statesShown(answer);
  const columns: readonly Column[] = [
    { align: 'left' },
    ...shown.flatMap(() => channels.map((_, c): Column => ({ align: 'right', gap: c === 0 ? 3 : 1 }))),
    { align: 'left', gap: 1 },
    ...channels.map((): Column => ({ align: 'left', gap: 1 })),
  ];
  const several = channels.length > 1;
  const lines = figureRows(answer).map((row): readonly Cell[] => [
    row.label,
    ...shown.flatMap(([, state]) => channels.map((_, c) => row.read(state, c))),
    row.unit,
    ...channels.map((name) => mark(answer, row, name)),
  ]);
  const heads = ['what it does', ...shown.flatMap(([name]) => channels.map((_, c) => (c === 0 ? name : '')))];
  const letters = ['', ...shown.flatMap(() => channels.map(channelLetter)), '', ...channels.map(channelLetter)];
  return tableLines(columns, [heads, ...(several ? [letters] : []), ...lines], options);
}

/** The same for a narrow column beside a figure: a line a channel. */
export function figureTableDown(answer: CheckAnswer, options: PageOptions): readonly string[] {
  const { channels } = answer;
  const shown = statesShown(answer);
  const several = channels.length > 1;
  const columns: readonly Column[] = [
    { align: 'left' },
    { align: 'left', gap: several ? 1 : 0 },
    ...shown.map((): Column => ({ align: 'right' })),
    { align: 'left', gap: 1 },
    { align: 'left', gap: 1 },
  ];
  const lines = figureRows(answer).flatMap((row) =>
    channels
      .map((name, c) => ({ name, cells: shown.map(([, state]) => row.read(state, c)) }))
      .filter(({ cells }) => cells.some((cell) => cell !== ''))
      .map(({ name, cells }, n): readonly Cell[] => [
        n === 0 ? row.label : '',
        several && row.perChannel !== false ? channelLetter(name) : '',
        ...cells,
        row.unit,
        mark(answer, row, name),
      ]),
  );
  return tableLines(columns, [['what it does', '', ...shown.map(([name]) => name)], ...lines], options);
}

const worstFirst: readonly Level[] = ['fail', 'not measured', 'look', 'good'];

function mark({ findings, channels }: CheckAnswer, { judgedBy }: FigureRow, channel: string): Cell {
  const last = channels[channels.length - 1];
  const levels = findings
    .filter((finding) => finding.counts && judgedBy(finding) && (finding.channel ?? last) === channel)
    .map(({ level }) => level);
  const worst = worstFirst.find((level) => levels.includes(level));
  return worst === undefined ? '' : { text: markOf[worst], ink: inkOf[worst] };
}
