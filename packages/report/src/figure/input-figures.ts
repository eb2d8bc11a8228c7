import type { ChannelLoading, LoadingAnswer } from '@curvewright/verify';
import { db, frequency, quantity } from '../numbers.ts';
import { dbReach } from './db-reach.ts';
import { levelWords, sentences } from './figure-words.ts';
import { seriesName, type CurveFigure, type Note } from './figure.ts';
import { reachFrom } from './read-line.ts';
import { dbAxis, hzAxis, logAxis, roundTo125 } from './scales.ts';
import type { OfState } from './state-curves.ts';
import { stateSeries } from './state-series.ts';

/** Hz: where a loading answer begins and ends. */
const [fromHz, toHz] = [20, 100_000];

/** What a cartridge sees of the board: the magnitude of its input impedance. */
export function inputFigure(answers: readonly OfState<LoadingAnswer>[]): CurveFigure {
  const series = answers.flatMap(({ state, answer: { channels } }) =>
    stateSeries(
      state,
      channels.map(({ name }) => name),
      channels[0]?.curve.hz ?? [],
      channels.map(({ curve }) => curve.ohms),
    ),
  );
  const reaches = series.flatMap(({ x, y }) => reachFrom(x, y, fromHz) ?? []);
  const [low, high] = [Math.min(10_000, ...reaches), Math.max(50_000, ...reaches)];
  return {
    kind: 'curves',
    id: 'input',
    title: 'Input impedance',
    x: hzAxis(fromHz, toHz),
    y: logAxis(roundTo125(low, true), roundTo125(high, false), 'Ω'),
    series,
    bands: [],
    limits: [],
    notes: firstOfEach(
      answers.flatMap(({ state, answer }) =>
        answer.channels.map(({ inputOhms }) => ({
          ...{ look: state, x: 1000, y: inputOhms },
          text: `${quantity(inputOhms, 'Ω')} at 1 kHz`,
        })),
      ),
    ),
    words: sentences(
      'Magnitude of the input impedance, 20 Hz to 100 kHz.',
      ...answers.flatMap(({ state, answer: { channels, capacitanceHz } }) =>
        channels.map(
          ({ name, inputOhms, capacitanceF }) =>
            `${nameOf(state, name, channels)}: ${quantity(inputOhms, 'Ω')} at 1 kHz as a resistance, ` +
            `${quantity(capacitanceF, 'F')} at ${frequency(capacitanceHz)}.`,
        ),
      ),
    ),
  };
}

/** The cartridge's response into the board; null where no answer has a cartridge. */
export function cartridgeFigure(answers: readonly OfState<LoadingAnswer>[]): CurveFigure | null {
  const cartridge = answers.find(({ answer }) => answer.cartridge !== null)?.answer.cartridge;
  if (!cartridge) return null;
  const series = answers.flatMap(({ state, answer: { channels } }) =>
    stateSeries(
      state,
      channels.map(({ name }) => name),
      channels[0]?.curve.hz ?? [],
      channels.map(({ curve }) => curve.relativeDb),
    ),
  );
  const notes = answers.flatMap(({ state, answer: { channels } }) =>
    channels.flatMap(({ resonance }): readonly Note[] =>
      resonance === null || resonance.peakDb === 0
        ? []
        : [{ look: state, x: resonance.peakHz, y: resonance.peakDb, text: peakWords(resonance) }],
    ),
  );
  return {
    kind: 'curves',
    id: 'cartridge',
    title: `${cartridge.name} into this input`,
    x: hzAxis(fromHz, toHz),
    y: dbAxis(...dbReach(series, [], 2)),
    series,
    bands: [],
    limits: [],
    notes: firstOfEach(notes),
    words: sentences(
      `From the EMF of ${cartridge.name} (${quantity(cartridge.resistance, 'Ω')}, ${quantity(cartridge.inductance, 'H')}, ` +
        `cable ${quantity(cartridge.capacitance, 'F')}) to the input node, dB re 1 kHz, 20 Hz to 100 kHz.`,
      ...series.map((each) => levelWords(each, [20, 5000, 10_000, 15_000, 20_000])),
      ...answers.flatMap(({ state, answer: { channels } }) =>
        channels.flatMap(({ name, resonance }) =>
          resonance === null ? [] : [`${nameOf(state, name, channels)}: highest ${peakWords(resonance)}.`],
        ),
      ),
    ),
  };
}

function nameOf(state: string, name: string, channels: readonly ChannelLoading[]): string {
  return seriesName({ label: state, channel: channels.length > 1 ? name : null });
}

function peakWords({ peakHz, peakDb }: NonNullable<ChannelLoading['resonance']>): string {
  return `${db(peakDb)} dB at ${frequency(peakHz)}`;
}

/** Channels that come to the same are noted once. */
function firstOfEach(notes: readonly Note[]): readonly Note[] {
  return notes.filter(({ look, text }, n) => notes.findIndex((note) => note.look === look && note.text === text) === n);
}
