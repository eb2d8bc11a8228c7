import type { ComparedReading, ComparedRound, WarmUp } from '@curvewright/verify';
import { wrap } from './cells.ts';
import { change, decimals, none, quantity, volts } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { tableLines, type Column } from './table.ts';

/** What the meter read, round by round, beside what it would show; then what warmth moved. */
export function readingsLines(
  rounds: readonly ComparedRound[],
  warm: readonly WarmUp[],
  options: PageOptions,
): readonly (readonly string[])[] {
  return [
    ...rounds.filter(({ readings }) => readings.length > 0).map((each) => roundLines(each, options)),
    ...(warm.length === 0 ? [] : [warmLines(warm, options)]),
  ];
}

const columns: readonly Column[] = [{ align: 'left' }, { align: 'point' }, { align: 'point' }, { align: 'point' }];

function roundLines({ round, readings }: ComparedRound, options: PageOptions): readonly string[] {
  const when = round.onFor === undefined ? '' : `, on for ${time(round.onFor)}`;
  const rows = readings.map((each) => [each.name, shown(each, each.read), shown(each, each.predicted), off(each)]);
  return tableLines(columns, [[`as read${when}`, 'read', 'computed', 'off'], ...rows], options);
}

function shown({ unit }: ComparedReading, value: number | null): string {
  if (value === null) return none;
  if (value === Infinity) return 'open';
  return unit === 'V' ? `${volts(value)} V` : quantity(value, 'Ω');
}

function off({ unit, read, predicted }: ComparedReading): string {
  if (predicted === null || !Number.isFinite(predicted)) return none;
  return unit === 'V' ? change(read - predicted, 'V') : `${decimals((100 * (read - predicted)) / predicted, 0)} %`;
}

function warmLines(warm: readonly WarmUp[], options: PageOptions): readonly string[] {
  const rows = warm.map(({ name, first, last, seconds }) => [
    name,
    `${volts(first)} V`,
    `${volts(last)} V`,
    change(last - first, 'V'),
    `in ${time(seconds)}`,
  ]);
  return [
    ...tableLines([...columns, { align: 'left' }], [['warm-up', 'first', 'last', 'moved', ''], ...rows], options),
    ...wrap(
      'A junction falls by about 2 mV for each kelvin; what moves by more than the rest is worth cooling and warming.',
      options.width,
    ),
  ];
}

export function time(seconds: number): string {
  return seconds >= 60 ? `${decimals(seconds / 60, 0)} min` : `${decimals(seconds, 0)} s`;
}
