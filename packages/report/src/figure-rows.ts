import type { ChannelSheet, Finding, StageSheet, StateAnswer } from '@curvewright/verify';
import { db, decimals, frequency, quantity } from './numbers.ts';

/** What a state does, as far as it is computed: the sheet comes first, the rest may follow. */
export type Numbers = Pick<StageSheet, 'balanceDb'> &
  Partial<Pick<StateAnswer, 'stability'>> & {
    readonly channels: readonly (ChannelSheet & Partial<Omit<StateAnswer['channels'][number], keyof ChannelSheet>>)[];
  };

/** One figure of the sheet: what it is called, how it reads from a state, which findings judge it. */
export interface FigureRow {
  readonly label: string;
  readonly unit: string;
  readonly read: (state: Numbers, channel: number) => string;
  readonly judgedBy: (finding: Finding) => boolean;
  /** False for a figure of all channels together, which stands in the last one's place. */
  readonly perChannel?: false;
}

const spotFrequencies: readonly number[] = [20, 30, 50, 100, 10_000, 15_000, 20_000];

/** Every figure of a stage with these channels, in the order of the sheet; `drawn` says which bands and margins there are. */
export function figureRows(channels: readonly string[], drawn: Numbers): readonly FigureRow[] {
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
    ...(drawn.channels[0]?.subsonicPeaks ?? []).flatMap(({ fromHz, toHz }, n): FigureRow[] => [
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
            read: (state: Numbers, c: number) =>
              c < channels.length - 1 || state.balanceDb === null ? '' : decimals(state.balanceDb, 2),
            judgedBy: what('balance'),
            perChannel: false as const,
          },
        ]),
    ...furtherRows(what),
    ...stabilityRows(channels, drawn),
  ];
}

/** Of all channels together the sharpest pair of poles, and of each its stated loop's margin. */
function stabilityRows(channels: readonly string[], drawn: Numbers): readonly FigureRow[] {
  const sharpest: FigureRow = {
    label: 'highest Q',
    unit: '',
    read: ({ stability }, c) => (c < channels.length - 1 || !stability ? '' : qWords(stability)),
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
  return (drawn.stability?.margins.length ?? 0) > 0 ? [sharpest, margin] : [sharpest];
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
