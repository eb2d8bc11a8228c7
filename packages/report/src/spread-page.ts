import type { BalanceSpread, Band, ChannelSpread, FigureSpread, SpreadAnswer } from '@curvewright/verify';
import { hanging, wrap } from './cells.ts';
import { deviationChart } from './deviation-chart.ts';
import { wordsOf } from './limit-words.ts';
import { db, decimals, frequency, none, signed, volts } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { refRuns } from './ref-runs.ts';
import { stagePage, type StagePageOptions } from './stage-page.ts';
import { channelLetter } from './states-shown.ts';
import { tableLines, type Column } from './table.ts';

/** A spread with the number of boards that were asked for: fewer are done where it was interrupted. */
export interface AskedSpread extends SpreadAnswer {
  readonly asked: number;
}

/** How many boards keep the limits and what keeps the others from it; the bands of curve, gain, balance and bias; the worst corners. */
export function spreadPage(answer: AskedSpread, options: StagePageOptions): string {
  return stagePage(options, 'how far healthy boards lie apart', (page) => [
    yields(answer, page),
    ...bandSections(answer, options, page),
    figures(answer, page),
    edges(answer, page),
    nodes(answer, page),
    corners(answer, page),
    remarks(answer, page),
  ]);
}

function yields(answer: AskedSpread, { width }: PageOptions): readonly string[] {
  const { boards, asked, noBias, seed } = answer;
  const count = boards < asked ? `${boards} of the ${asked} boards that were asked for` : `${boards} boards`;
  const whole = `${percent(answer.yield)} of ${count} keep every limit, ${percent(answer.yieldGood)} are good throughout (seed ${seed}).`;
  const who = answer.driversOf === 'fail' ? 'Boards that fail' : 'Boards that are not good';
  const drivers = answer.drivers.slice(0, 6).map((driver) => {
    const channel = driver.channel === null ? '' : ` ${driver.channel}`;
    const part =
      driver.parameter === 'hFE'
        ? `hFE of ${refRuns([driver.ref, ...driver.alike])}`
        : refRuns([driver.ref, ...driver.alike]);
    return `${part} ${driver.partIs}, ${decimals(driver.sigmas, 1)} σ (${wordsOf[driver.what]}${channel} ${driver.figureIs})`;
  });
  return [
    ...wrap(whole, width),
    ...(noBias > 0 ? wrap(`${noBias} of them find no bias.`, width) : []),
    ...(drivers.length > 0 ? hanging(`${who} have: `, drivers.join('; '), width) : []),
  ];
}

/** Frequencies of the table: the chart shows the rest. */
const spots: readonly number[] = [10, 20, 50, 100, 500, 2000, 5000, 10_000, 20_000];

/** A section a channel; a channel that does as the first is not shown again. */
function bandSections(
  { channels }: AskedSpread,
  { state }: StagePageOptions,
  page: PageOptions,
): readonly (readonly string[])[] {
  const first = channels[0];
  const shown = channels.filter((channel, n) => n === 0 || first === undefined || !alike(channel, first));
  const whoseOf = ({ name }: ChannelSpread): string => {
    if (channels.length === 1) return '';
    return shown.length === 1 ? ', every channel' : `, ${name} channel`;
  };
  return shown.map((channel) => bandSection(channel, whoseOf(channel), state, page));
}

/** To a tenth of a dB wherever the table reads: less than two runs of a thousand boards differ by. */
function alike(a: ChannelSpread, b: ChannelSpread): boolean {
  return a.bands.every((band, n) => {
    const other = b.bands[n];
    if (other === undefined || !spots.includes(band.hz)) return true;
    return (['lowDb', 'medianDb', 'highDb'] as const).every((key) => Math.abs(band[key] - other[key]) <= 0.1);
  });
}

function bandSection(
  { bands }: ChannelSpread,
  whose: string,
  state: StagePageOptions['state'],
  page: PageOptions,
): readonly string[] {
  const column = (key: 'lowDb' | 'medianDb' | 'highDb'): readonly number[] => bands.map((band) => band[key]);
  const curve = {
    state,
    hz: bands.map(({ hz }) => hz),
    db: column('medianDb'),
    band: { low: column('lowDb'), high: column('highDb') },
  };
  return [
    ...wrap(`Deviation${whose}: the median, shaded where nine boards of ten lie`, page.width),
    ...deviationChart([curve], null, { width: page.width, rows: 11, colour: page.colour }).split('\n'),
    '',
    ...bandTable(bands, page),
  ];
}

function bandTable(bands: readonly Band[], options: PageOptions): readonly string[] {
  const columns: readonly Column[] = [
    { align: 'right' },
    ...Array.from({ length: 5 }, (): Column => ({ align: 'point', gap: 3 })),
  ];
  const rows = bands
    .filter(({ hz }) => spots.includes(hz))
    .map((band) => [
      frequency(band.hz),
      ...[band.worstLowDb, band.lowDb, band.medianDb, band.highDb, band.worstHighDb].map(db),
    ]);
  return tableLines(columns, [['dB', 'lowest', '5 %', 'median', '95 %', 'highest'], ...rows], options);
}

/** A line for each limit; of the node voltages only those that not every board keeps. */
function figures({ figures: all }: AskedSpread, options: PageOptions): readonly string[] {
  const shown = all.filter(({ what, shareGood }) => what !== 'node_volts' || shareGood < 1);
  const columns: readonly Column[] = [
    { align: 'left', wraps: true },
    { align: 'left' },
    ...Array.from({ length: 3 }, (): Column => ({ align: 'right' })),
    { align: 'point', gap: 3 },
    { align: 'point' },
    { align: 'point' },
    { align: 'left', gap: 1 },
  ];
  const heads = ['limit', '', 'good', 'look', 'fail', '5 %', 'median', '95 %', ''];
  return tableLines(columns, [heads, ...shown.map(figureRow)], options);
}

function figureRow(figure: FigureSpread): readonly string[] {
  const { what, channel, where, unit, shareGood, shareLook, shareFail, low, median, high } = figure;
  return [
    `${wordsOf[what]}, ${where}`,
    channel === null ? '' : channelLetter(channel),
    ...[shareGood, shareLook, shareFail].map(percent),
    ...[low, median, high].map((value) => signed(value, unit === 'dB' ? 2 : 1)),
    unit,
  ];
}

/** Gain and the edges of the band, a line a channel. */
function edges({ channels, balance }: AskedSpread, options: PageOptions): readonly string[] {
  const columns: readonly Column[] = [
    { align: 'left' },
    ...Array.from({ length: 5 }, (): Column => ({ align: 'right', gap: 3 })),
  ];
  const heads = ['', 'lowest', '5 %', 'median', '95 %', 'highest'];
  const letter = (name: string): string => (channels.length > 1 ? `, ${channelLetter(name)}` : '');
  const rows = channels.flatMap(({ name, gain, rolloff }) => [
    [
      `gain at 1 kHz, dB${letter(name)}`,
      ...[gain.worstLowDb, gain.lowDb, gain.medianDb, gain.highDb, gain.worstHighDb].map((each) => decimals(each, 2)),
    ],
    rolloff === null
      ? [`roll-off −3 dB${letter(name)}`, ...heads.slice(1).map(() => none)]
      : [
          `roll-off −3 dB${letter(name)}${rolloff.share < 1 ? ` (${percent(rolloff.share)} of boards)` : ''}`,
          ...[rolloff.worstLowHz, rolloff.lowHz, rolloff.medianHz, rolloff.highHz, rolloff.worstHighHz].map(frequency),
        ],
  ]);
  return tableLines(columns, [heads, ...rows, ...(balance === null ? [] : [balanceRow(balance)])], options);
}

function balanceRow({ worstLowDb, lowDb, medianDb, highDb, worstHighDb }: BalanceSpread): readonly string[] {
  return ['balance, dB', ...[worstLowDb, lowDb, medianDb, highDb, worstHighDb].map(db)];
}

function nodes({ channels }: AskedSpread, options: PageOptions): readonly string[] {
  const columns: readonly Column[] = [
    { align: 'left' },
    ...channels.flatMap((): Column[] => [{ align: 'point', gap: 4 }, { align: 'point' }, { align: 'point' }]),
  ];
  const letter = (name: string): string => (channels.length > 1 ? `${channelLetter(name)} ` : '');
  const names = [...new Set(channels.flatMap((channel) => channel.nodes.map(({ node }) => node)))];
  const rows = names.map((name) => [
    name,
    ...channels.flatMap((channel) => {
      const found = channel.nodes.find(({ node }) => node === name);
      return found === undefined ? [none, none, none] : [found.lowV, found.medianV, found.highV].map(volts);
    }),
  ]);
  const heads = ['node, V', ...channels.flatMap(({ name }) => [`${letter(name)}5 %`, 'median', '95 %'])];
  return tableLines(columns, [heads, ...rows], options);
}

function corners({ corners: all }: AskedSpread, options: PageOptions): readonly string[] {
  const columns: readonly Column[] = [
    { align: 'left' },
    { align: 'left' },
    { align: 'right' },
    { align: 'point' },
    { align: 'left', wraps: true },
  ];
  const rows = all.map(({ what, channel, side, hz, db: found, parts }) => [
    `${wordsOf[what]} ${side}`,
    channel === null ? '' : channelLetter(channel),
    frequency(hz),
    found === null ? none : db(found),
    parts
      .slice(0, 4)
      .map(({ ref, at }) => `${ref} ${at}`)
      .join(', '),
  ]);
  return tableLines(columns, [['worst corner', '', 'at', 'dB', 'every part at an end, these first'], ...rows], options);
}

function remarks({ byBuild, exact, alike, resolved }: AskedSpread, { width }: PageOptions): readonly string[] {
  return [
    ...wrap('Drawn evenly within each tolerance, hFE from its lowest to its highest, each part by itself.', width),
    ...(byBuild.length > 0 ? hanging('Tolerance usual for the build: ', refRuns(byBuild), width) : []),
    ...(exact.length > 0 ? hanging('Held at their values, no tolerance known: ', refRuns(exact), width) : []),
    ...(alike.length > 0 ? hanging('Drawn alike: ', alike.map((refs) => refs.join(' and ')).join('; '), width) : []),
    ...(resolved > 0 ? wrap(`${resolved} frequencies were solved anew with row exchanges.`, width) : []),
    ...wrap(
      'Input resistance, hiss, hum, crosstalk, overload, distortion, stability and settling are not drawn for.',
      width,
    ),
    ...wrap('Computed from the files; nothing was measured.', width),
  ];
}

/** A share with one decimal; what is not all is never told as all, nor a few as none. */
function percent(share: number): string {
  const value = 100 * share;
  if (value > 99.9 && value < 100) return '>99.9 %';
  if (value > 0 && value < 0.1) return '<0.1 %';
  return `${decimals(value, value === 100 || value === 0 ? 0 : 1)} %`;
}
