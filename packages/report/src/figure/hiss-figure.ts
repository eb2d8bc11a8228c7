import type { ChannelNoise, NoiseAnswer } from '@curvewright/verify';
import { decimals } from '../numbers.ts';
import { sentences } from './figure-words.ts';
import type { BarFigure, BarRow } from './figure.ts';
import { plainAxis } from './scales.ts';
import type { OfState } from './state-curves.ts';

/** Rows that are told one by one; the others are put together in a last one. */
const mostRows = 7;

/** Fraction of the A-weighted power below which a row goes to the others. */
const leastShare = 0.005;

/** Factor of free room behind the longest bar, where its values stand. */
const room = 1.25;

/** Who makes the hiss: each position's part of the A-weighted power, twins in one row. `positions`: designators that are twins. */
export function hissFigure(
  { state, answer: { channels } }: OfState<NoiseAnswer>,
  positions: readonly (readonly string[])[],
): BarFigure {
  const ranked = rankedMakers(channels, positions);
  const told = ranked.filter(({ shares }, n) => n < mostRows && Math.max(...shares) >= leastShare);
  const others = ranked.slice(told.length);
  const rest = channels.map((_, c) => others.reduce((sum, { shares }) => sum + (shares[c] ?? 0), 0));
  const rows = [
    ...told.map(({ label, shares }) => barRow(label, shares)),
    ...(others.length === 0 ? [] : [barRow('all others', rest)]),
  ];
  return {
    kind: 'bars',
    id: 'hiss',
    title: 'Where the hiss comes from',
    axis: plainAxis(0, room * Math.max(1, ...rows.flatMap(({ values }) => values)), '%'),
    look: state,
    names: channels.map((channel) => sentences(channels.length > 1 ? channel.name : '', total(channel))),
    rows,
    words: sentences(
      `${state}: each part's share of the power of the A-weighted hiss at the input.`,
      ...channels.map((channel, c) => {
        const shares = rows.map(({ label, texts }) => `${label} ${texts[c] ?? ''}`).join(', ');
        return `${channel.name}: ${total(channel)}, of which ${shares}.`;
      }),
    ),
  };
}

function total({ inputAWeightedUv }: ChannelNoise): string {
  return `${decimals(inputAWeightedUv, 2)} µV`;
}

interface Maker {
  readonly label: string;
  /** Of 1, by channel. */
  readonly shares: number[];
}

function rankedMakers(channels: readonly ChannelNoise[], positions: readonly (readonly string[])[]): readonly Maker[] {
  const makers = new Map<string, Maker>();
  channels.forEach(({ shares }, c) => {
    for (const { ref, aWeightedShare } of shares) {
      const label = rowOf(ref, positions);
      const maker = makers.get(label) ?? { label, shares: channels.map(() => 0) };
      maker.shares[c] = (maker.shares[c] ?? 0) + aWeightedShare;
      makers.set(label, maker);
    }
  });
  return [...makers.values()].sort((a, b) => Math.max(...b.shares) - Math.max(...a.shares));
}

/** `Q101 Q102` for either of them, `D103` for a member of a string there, `source` for `input@left`. */
function rowOf(ref: string, positions: readonly (readonly string[])[]): string {
  const [what = ref, channel] = ref.split('@');
  if (channel !== undefined) return what === 'input' ? 'source' : what;
  const position = ref.replace(/\.\d+$/, '');
  return positions.find((twins) => twins.includes(position))?.join(' ') ?? position;
}

function barRow(label: string, shares: readonly number[]): BarRow {
  const values = shares.map((share) => 100 * share);
  return { label, values, texts: values.map((value) => `${decimals(value, value < 9.95 ? 1 : 0)} %`) };
}
