import type { ChannelLoading, LoadingAnswer } from '@curvewright/verify';
import { db, frequency, quantity } from '../numbers.ts';
import { dbReach } from './db-reach.ts';
import { levelWords, sentences } from './figure-words.ts';
import { seriesName, type CurveFigure, type Note } from './figure.ts';
import { reachFrom, valueAt } from './read-line.ts';
import { dbAxis, hzAxis, logAxis, roundTo125 } from './scales.ts';
import type { OfState } from './state-curves.ts';
import { stateSeries } from './state-series.ts';

/** Hz: where a loading answer begins and ends. */
const [fromHz, toHz] = [20, 100_000];

/** Factor of free room over and under an impedance. */
const room = 1.5;

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
  return {
    kind: 'curves',
    id: 'input',
    title: 'Input impedance',
    x: hzAxis(fromHz, toHz),
    y: logAxis(roundTo125(Math.min(...reaches) / room, true), roundTo125(Math.max(...reaches) * room, false), 'Ω'),
    series,
    bands: [],
    limits: [],
    notes: answers.slice(-1).flatMap(resistanceNote),
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
  return {
    kind: 'curves',
    id: 'cartridge',
    title: `${cartridge.name} into this input`,
    x: hzAxis(fromHz, toHz),
    y: dbAxis(...dbReach(series, [], 2)),
    series,
    bands: [],
    limits: [],
    notes: answers.slice(-1).flatMap(peakNote),
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

/** The channel that is lowest at 1 kHz. */
function resistanceNote({ state, answer: { channels } }: OfState<LoadingAnswer>): readonly Note[] {
  const [lowest] = channels.toSorted((a, b) => a.inputOhms - b.inputOhms);
  if (lowest === undefined) return [];
  const y = valueAt(lowest.curve.hz, lowest.curve.ohms, 1000) ?? NaN;
  return [{ look: state, x: 1000, y, text: `${quantity(lowest.inputOhms, 'Ω')} at 1 kHz` }];
}

/** The channel that peaks highest; none where the response only falls. */
function peakNote({ state, answer: { channels } }: OfState<LoadingAnswer>): readonly Note[] {
  const peaks = channels.flatMap(({ resonance }) => resonance ?? []);
  const [highest] = peaks.toSorted((a, b) => b.peakDb - a.peakDb);
  if (highest === undefined || highest.peakDb === 0) return [];
  return [{ look: state, x: highest.peakHz, y: highest.peakDb, text: peakWords(highest) }];
}
