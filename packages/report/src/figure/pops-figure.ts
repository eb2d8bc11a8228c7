import type { ChannelPops, PopHit, PopsAnswer } from '@curvewright/capture';
import { decimals, quantity } from '../numbers.ts';
import { sentences } from './figure-words.ts';
import type { CurveFigure, Note } from './figure.ts';
import { logAxis, plainAxis, roundTo125 } from './scales.ts';

/** One figure a channel: when and how high; the same scales for all of them. Empty where there is no pop in any. */
export function popsFigures({ channels }: PopsAnswer): readonly CurveFigure[] {
  const isCalibrated = channels.every(({ hits }) => hits.every(({ uv }) => uv !== null));
  const heightOf = ({ uv, share }: PopHit): number => Math.abs(isCalibrated && uv !== null ? uv : 100 * share);
  let [low, high, end] = [Infinity, 0, 0];
  for (const { hits, minutes } of channels) {
    end = Math.max(end, minutes);
    for (const hit of hits) [low, high] = [Math.min(low, heightOf(hit)), Math.max(high, heightOf(hit))];
  }
  if (high === 0) return [];
  const y = logAxis(
    roundTo125(low / 1.25, true),
    roundTo125(high * 1.25, false),
    isCalibrated ? 'µV' : '% of full scale',
    String,
  );
  return channels.map((channel) => ({
    kind: 'curves',
    id: 'pops',
    title: `Pops, ${channel.name}`,
    x: plainAxis(0, end, 'min'),
    y,
    series: [
      {
        ...{ label: 'pops', channel: null, look: 'measured', double: false },
        x: channel.hits.map(({ s }) => s / 60),
        y: channel.hits.map(heightOf),
      },
    ],
    bands: [],
    limits: [],
    notes: notesOf(channel, heightOf),
    words: wordsOf(channel, heightOf, isCalibrated),
  }));
}

/** The highest hit of each kind. */
function highest({ hits }: ChannelPops, heightOf: (hit: PopHit) => number): readonly PopHit[] {
  const best = new Map<PopHit['kind'], PopHit>();
  for (const hit of hits) {
    const known = best.get(hit.kind);
    if (known === undefined || heightOf(hit) > heightOf(known)) best.set(hit.kind, hit);
  }
  return [...best.values()];
}

function notesOf(channel: ChannelPops, heightOf: (hit: PopHit) => number): readonly Note[] {
  return highest(channel, heightOf).map((hit) => ({
    look: 'measured',
    x: hit.s / 60,
    y: heightOf(hit),
    text: hit.kind,
  }));
}

function wordsOf(channel: ChannelPops, heightOf: (hit: PopHit) => number, isCalibrated: boolean): string {
  const { name, count, minutes } = channel;
  const height = (hit: PopHit): string =>
    isCalibrated ? quantity(heightOf(hit) / 1e6, 'V', 2) : `${Number(heightOf(hit).toPrecision(2))} % of full scale`;
  return sentences(
    `Pops of ${name} over ${decimals(minutes, 1)} minutes: ${count}.`,
    ...highest(channel, heightOf).map((hit) => `A ${hit.kind} of ${height(hit)} at ${decimals(hit.s / 60, 2)} min.`),
  );
}
