import type { ChannelInfluence, Influence, InfluenceAnswer } from '@curvewright/verify';
import { hanging, wrap } from './cells.ts';
import { decimals, frequency, none, quantity, signed } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { stagePage, type StagePageOptions } from './stage-page.ts';
import { tableLines, type Column } from './table.ts';

/** Rows of a channel's table, and entries of the lines under it. */
const listedRows = 12;
const listedEntries = 5;

/** Hz at which the table shows bass and treble, where they were asked for. */
const shownHz = [20, 10_000];

/** Channel by channel: what moves the curve, ranked, then what moves it within tolerance, the gain and the bias. */
export function influencePage(answer: InfluenceAnswer, options: StagePageOptions): string {
  return stagePage(options, 'what one percent more of a part moves', (page) => [
    ...answer.channels.map((channel) => channelLines(channel, answer, page)),
    notes(answer, page),
  ]);
}

function channelLines(channel: ChannelInfluence, { band }: InfluenceAnswer, page: PageOptions): readonly string[] {
  const { name, parts, supplyAndLoad } = channel;
  const spots = shownHz.filter((hz) => parts[0]?.deviationDbPerPercent.some((point) => point.hz === hz));
  const figures = ['dB per %', 'at', 'tolerance', 'dB in it', ...spots.map(frequency), 'gain'];
  const columns: readonly Column[] = [
    { align: 'left' },
    { align: 'left' },
    ...figures.map((): Column => ({ align: 'point' })),
    { align: 'left', gap: 3 },
  ];
  return [
    ...wrap(
      `${name}: moves the curve from ${frequency(band.fromHz)} to ${frequency(band.toHz)} most, dB re 1 kHz for one percent more`,
      page.width,
    ),
    ...tableLines(
      columns,
      [['part', 'what', ...figures, 'bias, mV'], ...parts.slice(0, listedRows).map((row) => rowCells(row, spots))],
      page,
    ),
    ...ranking('Within its own tolerance most, dB: ', parts, ({ worst }) => worst.atToleranceDb ?? 0, decimals, page),
    ...ranking('Gain at 1 kHz most, dB per %: ', parts, ({ gainDbPerPercent }) => gainDbPerPercent, signed, page),
    ...biasLine('Bias most, mV per %: ', parts, page),
    ...biasLine('Bias by supply and load, mV per %: ', supplyAndLoad, page),
  ];
}

function rowCells(row: Influence, spots: readonly number[]): readonly string[] {
  const { ref, parameter, worst, tolerance, gainDbPerPercent, deviationDbPerPercent } = row;
  const at = (hz: number): number => deviationDbPerPercent.find((point) => point.hz === hz)?.db ?? NaN;
  return [
    ref,
    parameter,
    signed(worst.dbPerPercent, 4),
    frequency(worst.hz),
    tolerance === null ? none : toleranceText(tolerance),
    decimals(worst.atToleranceDb ?? NaN, 2),
    ...spots.map((hz) => signed(at(hz), 4)),
    signed(gainDbPerPercent, 4),
    biasText(row),
  ];
}

function toleranceText({ minus, plus }: NonNullable<Influence['tolerance']>): string {
  const percent = (fraction: number): string => decimals(100 * fraction, 0);
  return minus === plus ? `±${percent(plus)} %` : `−${percent(minus)}/+${percent(plus)} %`;
}

function mostMoved({ nodeMvPerPercent }: Influence): { readonly node: string; readonly mv: number } {
  return nodeMvPerPercent.reduce((most, each) => (Math.abs(each.mv) > Math.abs(most.mv) ? each : most), {
    node: '',
    mv: 0,
  });
}

/** Tenths of a millivolt: less than that no bench meter shows. */
function biasText(row: Influence): string {
  const { node, mv } = mostMoved(row);
  return Math.abs(mv) < 0.05 ? none : `${node} ${signed(mv, 1)}`;
}

function ranking(
  lead: string,
  rows: readonly Influence[],
  figure: (row: Influence) => number,
  print: (value: number, count: number) => string,
  { width }: PageOptions,
): readonly string[] {
  const ranked = rows
    .filter((row) => Math.abs(figure(row)) >= 0.0005)
    .toSorted((a, b) => Math.abs(figure(b)) - Math.abs(figure(a)))
    .slice(0, listedEntries);
  const texts = ranked.map((row) => `${nameOf(row)} ${print(figure(row), 3)}`);
  return hanging(lead, texts.length === 0 ? 'none' : texts.join(', '), width);
}

function biasLine(lead: string, rows: readonly Influence[], { width }: PageOptions): readonly string[] {
  const moved = rows
    .filter((row) => biasText(row) !== none)
    .toSorted((a, b) => Math.abs(mostMoved(b).mv) - Math.abs(mostMoved(a).mv))
    .slice(0, listedEntries);
  const texts = moved.map((row) => `${nameOf(row)} (${biasText(row)})`);
  return hanging(lead, texts.length === 0 ? 'none' : texts.join(', '), width);
}

function nameOf({ ref, parameter }: Influence): string {
  return parameter === 'value' ? ref : `${ref} ${parameter}`;
}

function notes({ floor }: InfluenceAnswer, { width }: PageOptions): readonly string[] {
  return [
    ...wrap(
      'Exact slopes of the solved stage, the bias moving along: right for small changes, a guide for large ones. hFE and VF of several ' +
        'points move together; a tolerance the file leaves silent is what the build usually keeps. Gains are from input node to output node.',
      width,
    ),
    ...wrap(
      `Parts of the other channel count where they move more than ${quantity(floor.db, 'dB')} or ${quantity(floor.mv / 1000, 'V')} per percent.`,
      width,
    ),
    ...wrap('Computed from the files; nothing was measured.', width),
  ];
}
