import type { CheckAnswer, MeasuredAnswer } from '@curvewright/verify';
import { hanging, oneLine, wrap } from './cells.ts';
import { db, decimals, isMain, none, quantity } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { channelLetter } from './states-shown.ts';
import { tableLines, type Column } from './table.ts';

/** What was measured beside what was predicted, with the reach of healthy boards; empty where nothing was. */
export function measuredLines({ states: { measured } }: CheckAnswer, options: PageOptions): readonly string[] {
  if (measured === null) return [];
  const { state, at, ofChain, boards, channels, problems } = measured;
  const place = at === 'board' ? 'the board' : oneLine(at);
  const outside = channels.flatMap(({ name, gain, points }) => [
    ...(gain.agreement === 'outside' ? [`gain ${channelLetter(name)}`] : []),
    ...points
      .filter(({ agreement }) => agreement === 'outside')
      .map(({ hz }) => `${quantity(hz, 'Hz')} ${channelLetter(name)}`),
  ]);
  return [
    ...wrap(`Measured at ${place} against ${state}, within what ${boards} healthy boards reach`, options.width),
    ...pointTable(measured, options),
    ...(outside.length === 0
      ? []
      : hanging(
          '▲ ',
          `outside: ${outside.join(', ')}. Next: suspect ranks the faults that would show this.`,
          options.width,
        )),
    ...problems.flatMap((problem) => hanging('▲ ', oneLine(problem), options.width)),
    ...(ofChain
      ? wrap(`The deviation is that of the whole chain up to ${place}, not of the board alone.`, options.width)
      : []),
  ];
}

function pointTable({ channels, balanceDb }: MeasuredAnswer, options: PageOptions): readonly string[] {
  const listed = [...new Set(channels.flatMap(({ points }) => points.map(({ hz }) => hz)))]
    .filter((hz) => isMain(hz) || hz === 15_000)
    .toSorted((a, b) => a - b);
  const band = (low: number | null, high: number | null): string =>
    low === null || high === null ? none : `${db(low)} … ${db(high)}`;
  const rows = [
    [
      'gain, dB',
      ...channels.flatMap(({ gainDb, gain }) => [
        decimals(gainDb ?? NaN, 2),
        gain.lowDb === null || gain.highDb === null ? none : `${decimals(gain.lowDb, 2)} … ${decimals(gain.highDb, 2)}`,
        gain.agreement,
      ]),
    ],
    ...(channels.length < 2 ? [] : [['balance, dB', '', '', '', decimals(balanceDb ?? NaN, 2)]]),
    ...listed.map((hz) => [
      quantity(hz, 'Hz'),
      ...channels.flatMap(({ points }) => {
        const point = points.find((each) => each.hz === hz);
        return point === undefined
          ? [none, '', '']
          : [db(point.deviationDb ?? NaN), band(point.lowDb, point.highDb), point.agreement];
      }),
    ]),
  ];
  const head = ['', ...channels.flatMap(({ name }) => [name, 'healthy', ''])];
  const columns: readonly Column[] = [
    { align: 'left' },
    ...channels.flatMap((): Column[] => [{ align: 'point', gap: 3 }, { align: 'left' }, { align: 'left' }]),
  ];
  return tableLines(columns, [head, ...rows], options);
}
