import type { ChannelNoise, NoiseAnswer, NoiseShare } from '@curvewright/verify';
import { hanging, wrap } from './cells.ts';
import { decimals, frequency, isMain } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { stagePage, type StagePageOptions } from './stage-page.ts';
import { tableLines, type Column } from './table.ts';

/** A part with less than this of the power, weighted or not, is not listed. */
const leastShare = 0.005;

/** Hiss, signal-to-noise and densities, channels side by side; then who makes it, ranked, channel by channel. */
export function noisePage(answer: NoiseAnswer, options: StagePageOptions): string {
  return stagePage(options, `hiss, input ${answer.source}`, (page) => [
    figures(answer, page),
    ...answer.channels.map((channel) => shareTable(channel, page)),
    notes(answer, page),
  ]);
}

function figures({ channels }: NoiseAnswer, options: PageOptions): readonly string[] {
  const columns: readonly Column[] = [{ align: 'left' }, ...channels.map((): Column => ({ align: 'point', gap: 4 }))];
  const row = (label: string, read: (channel: ChannelNoise) => string): readonly string[] => [
    label,
    ...channels.map(read),
  ];
  const density = (n: number): readonly string[] =>
    row(`  at ${frequency(channels[0]?.points[n]?.hz ?? NaN)}`, ({ points }) => decimals(points[n]?.inputNv ?? NaN, 2));
  return tableLines(
    columns,
    [
      row('', ({ name }) => name),
      row('at the input, µV', ({ inputUv }) => decimals(inputUv, 3)),
      row('  A-weighted', ({ inputAWeightedUv }) => decimals(inputAWeightedUv, 3)),
      row('signal to noise, dB', ({ snrDb }) => decimals(snrDb, 1)),
      row('  A-weighted', ({ snrAWeightedDb }) => decimals(snrAWeightedDb, 1)),
      row('gain at 1 kHz, dB', ({ gainDb }) => decimals(gainDb, 1)),
      ['density over the gain there, nV/√Hz'],
      ...(channels[0]?.points ?? []).flatMap(({ hz }, n) => (isMain(hz) ? [density(n)] : [])),
    ],
    options,
  );
}

function shareTable({ name, shares }: ChannelNoise, options: PageOptions): readonly string[] {
  const columns: readonly Column[] = [
    { align: 'left' },
    { align: 'point' },
    { align: 'point' },
    { align: 'left', gap: 3, wraps: true },
  ];
  const listed = shares.filter(({ share, aWeightedShare }) => Math.max(share, aWeightedShare) >= leastShare);
  return [
    ...wrap(`Who makes the hiss, ${name}, share of the power`, options.width),
    ...tableLines(
      columns,
      [['part', '%', 'A, %', 'of which'], ...listed.map((share) => [...shareCells(share), origins(share)])],
      options,
    ),
  ];
}

function shareCells({ ref, share, aWeightedShare }: NoiseShare): readonly string[] {
  return [makerName(ref), decimals(100 * share, 1), decimals(100 * aWeightedShare, 1)];
}

function makerName(ref: string): string {
  const [what, channel] = ref.split('@');
  if (what === 'input') return `source, ${channel ?? ''}`;
  return what === 'load' ? `load, ${channel ?? ''}` : ref;
}

function origins({ from }: NoiseShare): string {
  const listed = from.filter(({ share, aWeightedShare }) => Math.max(share, aWeightedShare) >= leastShare);
  if (listed.length < 2) return from[0]?.name ?? '';
  return listed
    .map(
      ({ name, share, aWeightedShare }) =>
        `${name} ${decimals(100 * share, 1)} (A ${decimals(100 * aWeightedShare, 1)})`,
    )
    .join(', ');
}

function notes(answer: NoiseAnswer, { width }: PageOptions): readonly string[] {
  const { reference, source, fromHz, toHz, ideal, weighting } = answer;
  return [
    ...wrap(
      `Output noise from ${frequency(fromHz)} to ${frequency(toHz)} over the gain at 1 kHz; signal to noise re ${reference}. ` +
        `Weighting: ${weighting}. Source: ${source}.`,
      width,
    ),
    ...ideal.flatMap(({ figure, refs }) => hanging('Taken as ideal: ', `${figure} (${refs.join(', ')})`, width)),
    ...wrap('Computed from the files; nothing was measured.', width),
  ];
}
