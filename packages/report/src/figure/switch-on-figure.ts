import type { SettleAnswer } from '@curvewright/verify';
import { quantity } from '../numbers.ts';
import { sentences } from './figure-words.ts';
import { seriesName, type CurveFigure, type Note } from './figure.ts';
import { plainAxis } from './scales.ts';
import type { OfState } from './state-curves.ts';
import { stateLine } from './state-series.ts';

/** The outputs from switch-on until a little after the last has settled. */
export function switchOnFigure(answers: readonly OfState<SettleAnswer>[]): CurveFigure {
  const until = Math.max(...answers.map(({ answer }) => shownUntil(answer)));
  const series = answers.flatMap(({ state, answer: { channels } }) => {
    const names = channels.map(({ name }) => name);
    return channels.map(({ points }, c) => {
      const [x, y] = [points.map(({ s }) => s), points.map(({ volts }) => volts)];
      return stateLine(state, names, c, x, y);
    });
  });
  const volts = series.flatMap(({ y }) => Array.from(y)).filter(Number.isFinite);
  // An output that never moves is a flat line, not noise blown up.
  const least = Math.max(...answers.map(({ answer }) => answer.withinV));
  return {
    kind: 'curves',
    id: 'switch-on',
    title: 'Output after switch-on',
    x: plainAxis(0, until, 's'),
    y: plainAxis(Math.min(0, ...volts), Math.max(least, ...volts), 'V'),
    series,
    bands: [],
    limits: [],
    notes: answers.slice(-1).flatMap(settledNote),
    words: sentences('Output voltage over time from switch-on.', ...answers.map(answerWords)),
  };
}

function shownUntil({ channels, endS }: SettleAnswer): number {
  return Math.min(endS, 1.25 * Math.max(...channels.map(({ settleS }) => settleS ?? endS)));
}

/** Where the last output comes to rest. */
function settledNote({ state, answer: { channels } }: OfState<SettleAnswer>): readonly Note[] {
  const [last] = channels.toSorted((a, b) => (b.settleS ?? Infinity) - (a.settleS ?? Infinity));
  if (last === undefined || last.settleS === null) return [];
  return [{ look: state, x: last.settleS, y: last.settledV, text: `at rest after ${quantity(last.settleS, 's', 2)}` }];
}

function answerWords({ state, answer: { channels, withinV, trouble } }: OfState<SettleAnswer>): string {
  const told = channels.map(({ name, settleS, peakV, highestV, lowestV }) => {
    const rest =
      settleS === null
        ? `does not come to rest within ${quantity(withinV, 'V', 2)}`
        : `at rest within ${quantity(withinV, 'V', 2)} after ${quantity(settleS, 's', 2)}`;
    const swing = `between ${quantity(lowestV, 'V')} and ${quantity(highestV, 'V')}`;
    const which = seriesName({ label: state, channel: channels.length > 1 ? name : null });
    return `${which}: ${rest}; on the way ${swing}, at most ${quantity(peakV, 'V')} from 0 V.`;
  });
  return sentences(...told, trouble === null ? '' : `${state}: ${trouble}.`);
}
