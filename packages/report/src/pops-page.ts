import type { PopHit, PopsAnswer, PopsChange } from '@curvewright/capture';
import { oneLine, wrap } from './cells.ts';
import { decimals, none, quantity } from './numbers.ts';
import { pageWidth, type PageOptions } from './page-options.ts';
import { popsStrip } from './pops-strip.ts';
import { changeWords, digits, driftWords, heightText, minutesText, rateWords } from './pops-words.ts';
import { tableLines, type Column } from './table.ts';

/** A recording of silence that was looked through. */
export interface PopsRecording extends PopsAnswer {
  readonly recording: string;
  /** Frames a second. */
  readonly rate: number;
  /** Standard deviations beyond which something is a pop. */
  readonly threshold: number;
  /** Minutes of it that were not looked at any more. */
  readonly leftMinutes: number;
  /** What a truncated or odd file lost. */
  readonly lost: readonly string[];
  readonly before: { readonly recording: string; readonly changes: readonly PopsChange[] } | null;
}

/** Hits that are listed one by one: the highest. */
const mostListed = 20;

/** How many and how often, the picture of them, the highest one by one, before and after, and what the figures are of. */
export function popsPage(answer: PopsRecording, options: PageOptions): string {
  const page = { ...options, width: pageWidth(options) };
  const sections = [
    heading(answer, page),
    [...rateTable(answer, page), ...popsRates(answer, page)],
    popsStrip(answer, page),
    hitTable(answer, page),
    changeLines(answer, page),
    notes(answer, page),
  ];
  return sections
    .filter(({ length }) => length > 0)
    .map((lines) => lines.join('\n'))
    .join(`\n${'─'.repeat(page.width)}\n`);
}

function heading(
  { recording, channels, rate, leftMinutes, lost }: PopsRecording,
  { width }: PageOptions,
): readonly string[] {
  const minutes = minutesText(channels[0]?.minutes ?? 0);
  const rest = leftMinutes > 0 ? `; ended early, ${minutesText(leftMinutes)} were not looked at` : '';
  return [
    ...wrap(`${oneLine(recording)}: pops in ${minutes} at ${rate} frames a second${rest}`, width),
    ...lost.flatMap((sentence) => wrap(`▲ ${sentence}`, width)),
  ];
}

function rateTable({ channels }: PopsAnswer, page: PageOptions): readonly string[] {
  const columns: readonly Column[] = [
    { align: 'left' },
    ...Array.from({ length: 7 }, (): Column => ({ align: 'right' })),
  ];
  const count = (hits: readonly PopHit[], kind: PopHit['kind']): string =>
    String(hits.filter((hit) => hit.kind === kind).length);
  return tableLines(
    columns,
    [
      ['', 'pops', 'clicks', 'steps', 'bursts', 'highest', 'clicks from', 'steps from'],
      ...channels.map(({ name, count: all, hits, least }) => [
        name,
        String(all),
        count(hits, 'click'),
        count(hits, 'step'),
        count(hits, 'burst'),
        hits.length === 0 ? none : heightText(highestFirst(hits)[0]),
        heightText(least.click),
        heightText(least.step),
      ]),
    ],
    page,
  );
}

function popsRates({ channels, together }: PopsAnswer, { width }: PageOptions): readonly string[] {
  const alike =
    together === null
      ? []
      : [`At the same time in both: ${together.count}; chance alone makes ${digits(together.byChance)}.`];
  return [...channels.map(rateWords), ...alike].flatMap((line) => wrap(line, width));
}

function highestFirst(hits: readonly PopHit[]): readonly PopHit[] {
  return hits.toSorted((a, b) => Math.abs(b.share) - Math.abs(a.share));
}

function hitTable({ channels }: PopsAnswer, page: PageOptions): readonly string[] {
  const all = channels.flatMap(({ name, hits }) => hits.map((hit) => ({ ...hit, name })));
  if (all.length === 0) return [];
  const listed = all.toSorted((a, b) => Math.abs(b.share) - Math.abs(a.share)).slice(0, mostListed);
  const columns: readonly Column[] = [
    { align: 'right' },
    { align: 'left' },
    { align: 'left' },
    { align: 'right' },
    { align: 'left', gap: 3 },
  ];
  const rows = listed
    .toSorted((a, b) => a.s - b.s)
    .map((hit) => [timeText(hit.s), hit.name, hit.kind, heightText(hit), remarks(hit)]);
  const title = all.length > listed.length ? `The highest ${listed.length} of ${all.length}:` : '';
  return [
    ...(title === '' ? [] : [title]),
    ...tableLines(columns, [['min:s', 'channel', 'kind', 'height', ''], ...rows], page),
  ];
}

function timeText(s: number): string {
  // To the millisecond first, so that 59.9996 s are a minute.
  const ms = Math.round(1000 * s);
  return `${Math.floor(ms / 60_000)}:${((ms % 60_000) / 1000).toFixed(3).padStart(6, '0')}`;
}

function remarks({ kind, clicks, lastsS, both }: PopHit): string {
  return [
    ...(kind === 'burst' ? [`${clicks} clicks in ${quantity(lastsS, 's', 2)}`] : []),
    ...(both ? ['in both channels'] : []),
  ].join(', ');
}

function changeLines({ before }: PopsRecording, { width }: PageOptions): readonly string[] {
  if (before === null) return [];
  return [
    ...wrap(`Against ${oneLine(before.recording)}; only pops that both recordings would have shown:`, width),
    ...before.changes.flatMap((change) => wrap(changeWords(change), width)),
  ];
}

function notes({ channels, threshold, recorderV }: PopsRecording, { width }: PageOptions): readonly string[] {
  const clipped = channels.filter((channel) => channel.clipped > 0);
  const noGain = channels.some(({ gainDb }) => gainDb === null);
  return [
    ...clipped.map(
      ({ name, clipped: samples }) =>
        `▲ ${name}: ${samples} samples at full scale; what is there was higher than told.`,
    ),
    ...channels.flatMap(({ name, drift }) => driftWords(name, drift, recorderV)),
    `Pops stand out of the noise by ${digits(threshold)} of its standard deviations; of heights in the columns "from", 98 in 100 are found. ` +
      'A burst counts as one.',
    recorderV === null || noGain
      ? "Heights are re full scale: say --recorder, and --gain or --job, for µV at the board's input."
      : `Heights are at the board's input, as if all gain were that at 1 kHz: ${channels.map(({ name, gainDb }) => `${name} ${decimals(gainDb ?? NaN, 1)} dB`).join(', ')}.`,
  ].flatMap((line) => wrap(line, width));
}
