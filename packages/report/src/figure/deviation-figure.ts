import type { Limits } from '@curvewright/board';
import type { MeasuredAnswer, SpreadAnswer } from '@curvewright/verify';
import { bandWords, eitherWayWords, furthestWords, levelWords, sentences } from './figure-words.ts';
import type { Band, CurveFigure } from './figure.ts';
import { bassLimit, eitherWay, peakLimit } from './limit-lines.ts';
import { dbAxis, hzAxis } from './scales.ts';
import { dbReach } from './db-reach.ts';
import { measuredSeries } from './measured-series.ts';
import { spreadBand } from './spread-band.ts';
import type { StateCurve } from './state-curves.ts';
import { stateSeries } from './state-series.ts';

/** Hz at which the figure's words tell every line. */
const toldHz: readonly number[] = [20, 50, 100, 1000, 10_000, 15_000, 20_000];

/** Every state's deviation, and what was measured, with the limits that it is held against and, where a spread is known, the band of healthy boards. */
export function deviationFigure(
  channels: readonly string[],
  curves: readonly StateCurve[],
  limits: Limits,
  spread: SpreadAnswer | null,
  measured: MeasuredAnswer | null = null,
): CurveFigure {
  const series = [
    ...curves.flatMap(({ state, hz, deviationDb }) => stateSeries(state, channels, hz, deviationDb)),
    ...measuredSeries(measured),
  ];
  const last = curves.at(-1);
  const bands: readonly Band[] =
    spread === null || last === undefined
      ? []
      : spreadBand(
          last.state,
          spread.channels.map(({ bands }) => bands),
        );
  return {
    kind: 'curves',
    id: 'deviation',
    title: 'Deviation from the RIAA curve',
    x: hzAxis(),
    y: dbAxis(...dbReach(series, bands, 1.25 * limits.deviation.look)),
    series,
    bands,
    limits: [
      ...eitherWay(limits, 'deviation'),
      ...bassLimit(limits),
      ...eitherWay(limits, 'treble'),
      ...peakLimit(limits, 'subsonic_low'),
      ...peakLimit(limits, 'subsonic_high'),
      ...peakLimit(limits, 'ultrasonic'),
    ],
    notes: [],
    words: sentences(
      'Deviation in dB re 1 kHz, 2 Hz to 100 kHz.',
      ...series.map((each) => sentences(levelWords(each, toldHz), furthestWords(each, limits.deviation))),
      eitherWayWords(limits, 'deviation'),
      ...bands.map((band) => bandWords(band, toldHz)),
    ),
  };
}
