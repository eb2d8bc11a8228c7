import type { Limits } from '@curvewright/board';
import type { ChannelHeadroom, HeadroomAnswer, Overload } from '@curvewright/verify';
import { frequency, quantity } from '../numbers.ts';
import { sentences } from './figure-words.ts';
import { seriesName, type CurveFigure, type Note } from './figure.ts';
import { overloadLimit } from './limit-lines.ts';
import { reachFrom } from './read-line.ts';
import { hzAxis, logAxis, roundTo125 } from './scales.ts';
import type { OfState } from './state-curves.ts';
import { stateSeries } from './state-series.ts';

/** The input at which each channel overloads, over frequency; where none was found the line is interrupted. */
export function overloadFigure(answers: readonly OfState<HeadroomAnswer>[], limits: Limits): CurveFigure {
  const series = answers.flatMap(({ state, answer: { channels } }) =>
    stateSeries(
      state,
      channels.map(({ name }) => name),
      channels[0]?.overload.map(({ hz }) => hz) ?? [],
      channels.map(({ overload }) => overload.map(({ inputMv }) => inputMv ?? NaN)),
    ),
  );
  const lines = overloadLimit(limits);
  const levels = [...series.flatMap(({ x, y }) => reachFrom(x, y, 0) ?? []), ...lines.map(({ value }) => value)];
  return {
    kind: 'curves',
    id: 'overload',
    title: 'Input at overload',
    x: hzAxis(16, 25_000),
    y: logAxis(
      roundTo125(Math.min(...levels) / 1.25, true),
      roundTo125(Math.max(...levels) * 1.25, false),
      'mV',
      String,
    ),
    series,
    bands: [],
    limits: lines,
    notes: answers.slice(-1).flatMap((each) => limitingNote(each, limits.overload.at)),
    words: sentences(
      'Input in mV rms for 1 % distortion or 1 dB of compression at the output, 20 Hz to 20 kHz.',
      ...answers.flatMap(({ state, answer: { channels } }) =>
        channels.map((channel) => channelWords(state, channel, channels.length > 1)),
      ),
      limitWords(limits),
    ),
  };
}

/** The part that limits the channel that overloads first at the limit's frequency. */
function limitingNote({ state, answer: { channels } }: OfState<HeadroomAnswer>, at: number): readonly Note[] {
  const spots = channels.flatMap(({ overload }) => overload.filter(({ hz }) => hz === at));
  const [first] = spots.toSorted((a, b) => (a.inputMv ?? Infinity) - (b.inputMv ?? Infinity));
  if (first === undefined || first.inputMv === null) return [];
  const by = first.limitedBy === null ? '' : `, ${first.limitedBy} limits`;
  return [{ look: state, x: first.hz, y: first.inputMv, text: `${millivolts(first.inputMv)}${by}` }];
}

function channelWords(state: string, { name, overload }: ChannelHeadroom, several: boolean): string {
  const told = overload.map((each) => `${levelWords(each)} at ${frequency(each.hz)}`);
  return `${seriesName({ label: state, channel: several ? name : null })}: ${told.join(', ')}.`;
}

function levelWords({ inputMv, limitedBy, triedMv, unresolved }: Overload): string {
  if (inputMv === null) return `${unresolved ? 'not known, but above' : 'takes all of'} ${millivolts(triedMv)}`;
  return `${millivolts(inputMv)}${limitedBy === null ? '' : ` (${limitedBy})`}`;
}

function limitWords({ overload: { good, look, at } }: Limits): string {
  return `Good from ${quantity(good, 'V', 2)}, look from ${quantity(look, 'V', 2)}, at ${frequency(at)}.`;
}

function millivolts(value: number): string {
  return `${Number(value.toPrecision(3))} mV`;
}
