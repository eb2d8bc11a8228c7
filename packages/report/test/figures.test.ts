import { mergeLimits } from '@curvewright/board';
import { targetDb } from '@curvewright/curves';
import type {
  ChannelHeadroom,
  ChannelLoading,
  ChannelNoise,
  HeadroomAnswer,
  LoadingAnswer,
  NoiseAnswer,
  SettleAnswer,
  SpreadAnswer,
} from '@curvewright/verify';
import { describe, expect, it } from 'vitest';
import { balanceFigure } from '../src/figure/balance-figure.ts';
import { deviationFigure } from '../src/figure/deviation-figure.ts';
import { seriesName, type Figure } from '../src/figure/figure.ts';
import { hissFigure } from '../src/figure/hiss-figure.ts';
import { cartridgeFigure, inputFigure } from '../src/figure/input-figures.ts';
import { overloadFigure } from '../src/figure/overload-figure.ts';
import { valueAt } from '../src/figure/read-line.ts';
import { responseFigure } from '../src/figure/response-figure.ts';
import { stateCurves } from '../src/figure/state-curves.ts';
import { svgFigure } from '../src/figure/svg-figure.ts';
import { switchOnFigure } from '../src/figure/switch-on-figure.ts';
import { inventedAnswer } from './invented-answer.ts';
import { readSvg, wordAt, type SvgElement } from './read-svg.ts';

// All answers here are invented: no stage behaves like this.
const limits = mergeLimits();
const channels = ['left', 'right'];
const curves = stateCurves(inventedAnswer());

function drawn(figure: Figure): readonly SvgElement[] {
  for (const ink of ['page', 'light', 'dark'] as const) {
    for (const titled of [true, false]) readSvg(svgFigure(figure, { size: 'small', ink, titled }));
  }
  return readSvg(svgFigure(figure, { size: 'full', ink: 'print', titled: true }));
}

const bands = [2, 20, 1000, 100_000].map((hz) => ({
  hz,
  ...{ lowDb: -0.4, medianDb: 0, highDb: 0.3, worstLowDb: -1, worstHighDb: 1, sigmaDb: 0.2 },
}));
const spread = {
  channels: [
    { name: 'left', bands },
    { name: 'right', bands: bands.map((band) => ({ ...band, lowDb: -0.6, highDb: 0.1 })) },
  ],
  balance: { bands },
} as unknown as SpreadAnswer;

describe('the curves of a check', () => {
  it('add gain at 1 kHz and target to the deviation', () => {
    const [first] = curves;
    const at = valueAt(first!.hz, first!.gainDb[0]!, 1000)!;
    // 35.1 dB at 1 kHz, and the invented fall below 10 Hz: 0.0004 dB there.
    expect(at).toBeCloseTo(35.1, 2);
    const i = 20;
    const { hz, deviationDb, gainDb } = first!;
    expect(gainDb[0]![i]).toBeCloseTo(35.1 + targetDb('riaa', hz[i]!) + deviationDb[0]![i]!, 9);
  });
});

describe('the deviation figure', () => {
  const figure = deviationFigure(channels, curves, limits, spread);

  it('draws every state and channel, and every limit of the curve', () => {
    expect(figure.series.map(seriesName)).toEqual([
      ...['drawn, left', 'drawn, right', 'found, left', 'found, right', 'rebuilt, left', 'rebuilt, right'],
    ]);
    expect(figure.series.map(({ double }) => double)).toEqual([false, true, false, true, false, true]);
    const values = figure.limits.map(({ value, from, to }) => `${value} ${Math.round(from)} ${Math.round(to)}`);
    expect(values).toEqual(
      expect.arrayContaining([
        ...['0.5 30 15000', '-0.5 30 15000', '1 30 15000', '-1 30 15000'],
        ...['-1.5 16 25', '-3 16 25', '1 15000 20000', '-2 15000 20000', '3 10 30', '10 2 10', '6 20000 100000'],
      ]),
    );
    drawn(figure);
  });

  it('tells the numbers in words', () => {
    // −10 log(1 + (14/20)²) and −10 log(1 + (14/30)²), read between points 1/20 decade apart.
    expect(figure.words).toMatch(/rebuilt, left: −1\.7[34] dB at 20 Hz,/);
    expect(figure.words).toMatch(/Furthest between 30 Hz and 15 kHz: −0\.8[56] dB at 30 Hz\./);
    expect(figure.words).toContain('Good within ±0.5 dB, look within ±1 dB, from 30 Hz to 15 kHz.');
    expect(figure.words).toContain('90 % of healthy boards: −0.60 to +0.30 dB at 20 Hz');
  });

  it('joins the bands of the channels to one', () => {
    expect(figure.bands).toHaveLength(1);
    expect(figure.bands[0]).toMatchObject({
      look: 'rebuilt',
      low: [-0.6, -0.6, -0.6, -0.6],
      high: [0.3, 0.3, 0.3, 0.3],
    });
    const [band] = drawn(figure).filter(({ attributes }) => attributes['fill-opacity'] === '0.14');
    expect(band?.attributes.fill).toBe('#0B6E75');
  });

  it('shows losses from 20 Hz up', () => {
    // Found, right: −10 log(1 + (34/20)²) = −5.9 dB.
    expect(figure.y.from).toBe(-6);
    expect(deviationFigure(channels, curves.slice(0, 1), limits, null).y.from).toBe(-1.5);
  });
});

describe('the response figure', () => {
  it('draws gain over the curve, last state to 1 kHz', () => {
    const figure = responseFigure(channels, curves);
    const [target] = figure.series;
    expect(target).toMatchObject({ label: 'RIAA curve', look: 'target', channel: null });
    const at = (hz: number): number => valueAt(target!.x, target!.y, hz)!;
    expect(at(1000)).toBeCloseTo(35.1, 2);
    // Published RIAA playback: +19.3 dB at 20 Hz re 1 kHz. Straight lines between points 1/20 decade apart: 0.02 dB.
    expect(Math.abs(at(20) - at(1000) - 19.27)).toBeLessThan(0.03);
    expect(figure.words).toContain('rebuilt, right: 5');
    drawn(figure);
  });
});

describe('the balance figure', () => {
  it('draws the first channel over the last', () => {
    const figure = balanceFigure(channels, curves, limits, spread)!;
    expect(figure.series.map(seriesName)).toEqual(['drawn', 'found', 'rebuilt']);
    const found = figure.series[1]!;
    // 10 log of (1 + (34/30)²) over (1 + (12/30)²) = 2.94 dB, read between points.
    expect(valueAt(found.x, found.y, 30)).toBeCloseTo(2.94, 1);
    expect(figure.words).toMatch(/found: \+2\.9\d dB at 30 Hz/);
    drawn(figure);
  });

  it('is none for one channel', () => {
    expect(balanceFigure(['mono'], curves, limits, null)).toBeNull();
  });
});

describe('the hiss figure', () => {
  const share = (ref: string, aWeightedShare: number): ChannelNoise['shares'][number] => ({
    ...{ ref, share: 0, aWeightedShare, from: [] },
  });
  const noise = {
    channels: [
      {
        name: 'left',
        inputAWeightedUv: 0.312,
        shares: [
          share('Q101', 0.6),
          share('R111', 0.3),
          share('D103.1', 0.05),
          share('D103.2', 0.046),
          share('load@left', 0.004),
        ],
      },
      {
        name: 'right',
        inputAWeightedUv: 0.4,
        shares: [share('Q102', 0.5), share('R112', 0.1), share('input@right', 0.38), share('Q101', 0.02)],
      },
    ],
  } as unknown as NoiseAnswer;
  const figure = hissFigure({ state: 'rebuilt', answer: noise }, [['Q101', 'Q102'], ['R111', 'R112'], ['D103']]);

  it('puts twins in a row, a string in one, and what is little together', () => {
    expect(figure.rows.map(({ label, texts }) => [label, ...texts])).toEqual([
      ['Q101 Q102', '60 %', '52 %'],
      ['source', '0.0 %', '38 %'],
      ['R111 R112', '30 %', '10 %'],
      ['D103', '9.6 %', '0.0 %'],
      ['all others', '0.4 %', '0.0 %'],
    ]);
    expect(figure.names).toEqual(['left 0.31 µV', 'right 0.40 µV']);
    expect(figure.words).toContain('left: 0.31 µV, of which Q101 Q102 60 %');
  });

  it('draws bars as long as their shares', () => {
    const elements = drawn(figure);
    const across = (text: string): number => wordAt(elements, text).x;
    const perCent = (across('50') - across('0')) / 50;
    // The key's sample comes before the rows.
    const bars = elements.filter(
      ({ name, attributes }) => name === 'rect' && attributes.fill === '#0B6E75' && Number(attributes.height) > 2,
    );
    expect(Number(bars[2]?.attributes.width) / perCent).toBeCloseTo(60, 1);
    expect(Number(bars[3]?.attributes.width) / perCent).toBeCloseTo(52, 1);
  });

  it('escapes what a file calls its parts', () => {
    const refs = [['<img src=x onerror=alert(1)>', 'Q102']];
    const foreign = {
      channels: [{ name: '"<b>', inputAWeightedUv: 1, shares: [share('<img src=x onerror=alert(1)>', 1)] }],
    };
    const svg = svgFigure(hissFigure({ state: 'drawn', answer: foreign as unknown as NoiseAnswer }, refs), {
      size: 'full',
      ink: 'page',
      titled: true,
    });
    expect(svg).not.toMatch(/<img|<b>/);
    wordAt(readSvg(svg), '<img src=x onerror=alert(1)> Q102');
  });
});

describe('the figures of the input', () => {
  const hz = [20, 200, 1000, 10_000, 100_000];
  const channel = (name: string, inputOhms: number): ChannelLoading => ({
    ...{ name, inputOhms, points: [], capacitanceF: 50e-12, response: [] },
    resonance: { hz: 18_000, peakHz: 10_000, peakDb: 0.4 },
    curve: { hz, ohms: [30e3, 46e3, inputOhms, 45e3, 25e3], relativeDb: [0, 0, 0, 0.4, -30] },
  });
  const answer: LoadingAnswer = {
    cartridge: { name: 'MM-A', resistance: 800, inductance: 0.48, capacitance: 150e-12 },
    capacitanceHz: 10_000,
    channels: [channel('left', 47e3), channel('right', 46.5e3)],
  };

  it('draw the impedance and note the lower channel', () => {
    const figure = inputFigure([{ state: 'rebuilt', answer }]);
    expect([figure.y.from, figure.y.to]).toEqual([10_000, 100_000]);
    expect(figure.notes).toEqual([{ look: 'rebuilt', x: 1000, y: 46.5e3, text: '46.5 kΩ at 1 kHz' }]);
    expect(figure.words).toContain('rebuilt, left: 47 kΩ at 1 kHz as a resistance, 50 pF at 10 kHz.');
    wordAt(drawn(figure), '46.5 kΩ at 1 kHz');
  });

  it('draw the response of the cartridge with its peak, and none without one', () => {
    const figure = cartridgeFigure([{ state: 'rebuilt', answer }])!;
    expect(figure.title).toBe('MM-A into this input');
    expect(figure.y.from).toBe(-12);
    expect(figure.notes).toEqual([{ look: 'rebuilt', x: 10_000, y: 0.4, text: '+0.40 dB at 10 kHz' }]);
    drawn(figure);
    expect(cartridgeFigure([{ state: 'rebuilt', answer: { ...answer, cartridge: null } }])).toBeNull();
  });
});

describe('the switch-on figure', () => {
  const swing = (name: string, settleS: number | null): SettleAnswer['channels'][number] => ({
    ...{ name, settleS, peakV: 4, highestV: 4, lowestV: -0.2, settledV: 0.001 },
    points: [0, 0.5, 1, 2, 8].map((s) => ({ s, volts: s === 0.5 ? 4 : s === 1 ? -0.2 : 0 })),
  });
  const answer = {
    channels: [swing('left', 1.2), swing('right', 1.6)],
    ...{ withinV: 0.01, endS: 8, trouble: null },
  } as unknown as SettleAnswer;

  it('ends a little after the last output has settled, and says when that is', () => {
    const figure = switchOnFigure([{ state: 'rebuilt', answer }]);
    expect(figure.x).toMatchObject({ from: 0, to: 2, unit: 's' });
    expect(figure.y.to).toBe(4);
    expect(figure.notes).toEqual([{ look: 'rebuilt', x: 1.6, y: 0.001, text: 'at rest after 1.6 s' }]);
    expect(figure.words).toContain(
      'rebuilt, left: at rest within 10 mV after 1.2 s; on the way between −200 mV and 4 V, at most 4 V from 0 V.',
    );
    drawn(figure);
  });

  it('says what does not come to rest', () => {
    const restless = { ...answer, channels: [swing('mono', null)], trouble: 'the stage keeps swinging' };
    const figure = switchOnFigure([{ state: 'found', answer: restless }]);
    expect(figure.x.to).toBe(8);
    expect(figure.notes).toEqual([]);
    expect(figure.words).toContain('found: does not come to rest within 10 mV');
    expect(figure.words).toContain('found: the stage keeps swinging.');
  });
});

describe('the overload figure', () => {
  const overload = (inputs: readonly (number | null)[]): ChannelHeadroom['overload'] =>
    [20, 1000, 20_000].map((hz, n) => ({
      ...{ hz, inputMv: inputs[n] ?? null, above5mvDb: null, by: null, share: null, outputV: null, triedMv: 5000 },
      ...{ withinPercent: 0.1, unresolved: false },
      ...{ withinPercent: null, unresolved: hz === 20 },
      limitedBy: (inputs[n] ?? null) === null ? null : `Q10${n}`,
    }));
  const answer: HeadroomAnswer = {
    channels: [
      { name: 'left', overload: overload([16, 130, 600]), points: [] },
      { name: 'right', overload: overload([15, 90, null]), points: [] },
    ],
  };
  const figure = overloadFigure([{ state: 'rebuilt', answer }], limits);

  it('draws where it was found, with the limit at its frequency and what limits there', () => {
    expect(Array.from(figure.series[1]!.y)).toEqual([15, 90, NaN]);
    expect(figure.limits.map(({ value, text }) => [value, text])).toEqual([
      [100, '100 mV good'],
      [50, '50 mV look'],
    ]);
    expect(figure.notes).toEqual([{ look: 'rebuilt', x: 1000, y: 90, text: '90 mV, Q101 limits' }]);
    expect(figure.words).toContain(
      'rebuilt, right: 15 mV (Q100) at 20 Hz, 90 mV (Q101) at 1 kHz, takes all of 5000 mV',
    );
    expect(figure.words).toContain('Good from 100 mV, look from 50 mV, at 1 kHz.');
  });

  it('says where the search found no end', () => {
    const lost = { channels: [{ name: 'mono', overload: overload([null, 90, null]), points: [] }] };
    expect(overloadFigure([{ state: 'rebuilt', answer: lost }], limits).words).toContain(
      'rebuilt: not known, but above 5000 mV at 20 Hz, 90 mV (Q101) at 1 kHz, takes all of 5000 mV at 20 kHz.',
    );
  });

  it('marks the points that were computed', () => {
    const dots = drawn(figure).filter(({ name, attributes }) => name === 'circle' && attributes.r === '3');
    expect(dots).toHaveLength(5);
  });
});
