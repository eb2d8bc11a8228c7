import type { Limits } from '@curvewright/board';
import type { SpreadAnswer } from '@curvewright/verify';
import { dbReach } from './db-reach.ts';
import { bandWords, eitherWayWords, furthestWords, levelWords, sentences } from './figure-words.ts';
import type { CurveFigure, Series } from './figure.ts';
import { eitherWay } from './limit-lines.ts';
import { dbAxis, hzAxis } from './scales.ts';
import { spreadBand } from './spread-band.ts';
import type { StateCurve } from './state-curves.ts';

const toldHz: readonly number[] = [30, 100, 1000, 10_000, 15_000];

/** Level of the first channel over the last, in every state; null for one channel. */
export function balanceFigure(
  channels: readonly string[],
  curves: readonly StateCurve[],
  limits: Limits,
  spread: SpreadAnswer | null,
): CurveFigure | null {
  const [first, last] = [channels[0], channels.at(-1)];
  if (channels.length < 2 || first === undefined || last === undefined) return null;
  const series = curves.map(differenceSeries);
  const state = curves.at(-1)?.state;
  const bands = state === undefined || !spread?.balance ? [] : spreadBand(state, [spread.balance.bands]);
  return {
    kind: 'curves',
    id: 'balance',
    title: `Balance, ${first} over ${last}`,
    x: hzAxis(),
    y: dbAxis(...dbReach(series, bands, 1.25 * limits.balance.look)),
    series,
    bands,
    limits: eitherWay(limits, 'balance'),
    notes: [],
    words: sentences(
      `Level of ${first} over ${last} in dB, 2 Hz to 100 kHz.`,
      ...series.map((each) => sentences(levelWords(each, toldHz), furthestWords(each, limits.balance))),
      eitherWayWords(limits, 'balance'),
      ...bands.map((band) => bandWords(band, toldHz)),
    ),
  };
}

function differenceSeries({ state, hz, gainDb }: StateCurve): Series {
  const [first, last] = [gainDb[0], gainDb.at(-1)];
  const y = Array.from(hz, (_, i) => (first?.[i] ?? NaN) - (last?.[i] ?? NaN));
  return { label: state, channel: null, look: state, double: false, x: hz, y };
}
