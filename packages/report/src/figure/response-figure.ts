import { targetDb } from '@curvewright/curves';
import { decimals, frequency } from '../numbers.ts';
import { sentences } from './figure-words.ts';
import { seriesName, type CurveFigure, type Series } from './figure.ts';
import { reachFrom, valueAt } from './read-line.ts';
import { hzAxis, plainAxis } from './scales.ts';
import type { StateCurve } from './state-curves.ts';
import { stateSeries } from './state-series.ts';

const toldHz: readonly number[] = [20, 100, 1000, 10_000, 20_000];

/** Every state's gain, with the RIAA curve through the last state's gain at 1 kHz. */
export function responseFigure(channels: readonly string[], curves: readonly StateCurve[]): CurveFigure {
  const series = curves.flatMap(({ state, hz, gainDb }) => stateSeries(state, channels, hz, gainDb));
  const target = targetSeries(curves.at(-1));
  // What falls away outside 10 Hz to 100 kHz would shrink all the rest.
  const reaches = series.flatMap(({ x, y }) => reachFrom(x, y, 10) ?? []);
  return {
    kind: 'curves',
    id: 'response',
    title: 'Gain over frequency',
    x: hzAxis(),
    y: plainAxis(Math.min(0, ...reaches), Math.max(10, ...reaches), 'dB'),
    series: [...target, ...series],
    bands: [],
    limits: [],
    notes: [],
    words: sentences('Gain in dB, 2 Hz to 100 kHz.', ...series.map(gainWords)),
  };
}

function targetSeries(curve: StateCurve | undefined): readonly Series[] {
  const [gain] = curve?.gainDb ?? [];
  if (curve === undefined || gain === undefined) return [];
  const level = valueAt(curve.hz, gain, 1000) ?? NaN;
  const y = Array.from(curve.hz, (hz) => targetDb('riaa', hz) + level);
  return [{ label: 'RIAA curve', channel: null, look: 'target', double: false, x: curve.hz, y }];
}

function gainWords(series: Series): string {
  const told = toldHz.map((hz) => `${decimals(valueAt(series.x, series.y, hz) ?? NaN, 1)} dB at ${frequency(hz)}`);
  return `${seriesName(series)}: ${told.join(', ')}.`;
}
