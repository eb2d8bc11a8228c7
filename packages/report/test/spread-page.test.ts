import type { Band, ChannelSpread } from '@curvewright/verify';
import { describe, expect, it } from 'vitest';
import { spreadPage, type AskedSpread } from '../src/spread-page.ts';
import { lineWith, widestOf } from './lines.ts';

const page = { title: 'Larkfield LK 417', state: 'drawn', width: 80, colour: false } as const;

const reach = { lowDb: -0.4, medianDb: -0.02, highDb: 0.3, worstLowDb: -0.9, worstHighDb: 0.8, sigmaDb: 0.2 };
const bands: readonly Band[] = [2, 10, 20, 50, 100, 500, 1000, 2000, 10_000, 20_000, 100_000].map((hz) => ({
  hz,
  ...reach,
}));
const volts = { nominalV: 5, lowV: 4.5, medianV: 5, highV: 5.5, worstLowV: 4, worstHighV: 6 };
const hz = { lowHz: 7, medianHz: 9, highHz: 12, worstLowHz: 5, worstHighHz: 15 };

const left: ChannelSpread = {
  name: 'left',
  bands,
  gain: { ...reach, medianDb: 35.1 },
  rolloff: { ...hz, share: 0.75 },
  rolloffHigh: null,
  nodes: [{ node: 'c1', ...volts }],
};
const right: ChannelSpread = { ...left, name: 'right', rolloff: null };

/** Invented: no board spreads like this. */
const answer: AskedSpread = {
  asked: 1000,
  boards: 1000,
  noBias: 0,
  seed: 3,
  yield: 0.9996,
  yieldGood: 0.25,
  channels: [left, right],
  balance: { ...reach, bands },
  figures: [
    {
      what: 'deviation',
      channel: 'left',
      where: '30 Hz to 15 kHz',
      unit: 'dB',
      nominal: -0.1,
      low: -0.4,
      median: -0.1,
      high: 0.3,
      worstLow: -1,
      worstHigh: 1,
      shareGood: 0.25,
      shareLook: 0.7496,
      shareFail: 0.0004,
    },
  ],
  driversOf: 'fail',
  drivers: [
    {
      ref: 'Q101',
      alike: ['Q102'],
      parameter: 'hFE',
      sigmas: 1.23,
      what: 'deviation',
      channel: 'left',
      figureIs: 'low',
      partIs: 'low',
    },
  ],
  corners: [
    {
      what: 'balance',
      channel: null,
      side: 'low',
      hz: 30,
      nominalDb: 0,
      expectedDb: -2,
      db: -2.12,
      parts: [
        { ref: 'C103', at: 'high', db: -1 },
        { ref: 'C104', at: 'low', db: -1 },
      ],
    },
  ],
  resolved: 0,
  byBuild: ['R103', 'R104', 'R105'],
  exact: ['L101'],
  alike: [['Q101', 'Q102']],
};

const text = spreadPage(answer, page);

describe('the spread page', () => {
  it('gives the yield, never rounded up to all, and who is behind the failures', () => {
    expect(text).toContain('>99.9 % of 1000 boards keep every limit, 25.0 % are good throughout (seed 3).');
    expect(text).toContain('Boards that fail have: hFE of Q101, Q102 low, 1.2 σ (deviation left low)');
  });

  it('says how many boards were done where it was interrupted, and how many find no bias', () => {
    const part = spreadPage({ ...answer, boards: 300, noBias: 2 }, page);
    expect(part).toContain('300 of the 1000 boards that were asked for');
    expect(part).toContain('2 of them find no bias');
  });

  it('shades the band around the median and tables it', () => {
    expect(text).toContain('░');
    expect(lineWith(text, '20 Hz  ')).toMatch(/^ *20 Hz +−0\.90 +−0\.40 +−0\.02 +\+0\.30 +\+0\.80$/);
  });

  it('shows a channel that lies as the first only once, and one that does not by itself', () => {
    expect(text.match(/the median, shaded/g)).toHaveLength(1);
    const off = { ...right, bands: bands.map((band) => ({ ...band, highDb: 0.9 })) };
    expect(spreadPage({ ...answer, channels: [left, off] }, page)).toMatch(/Deviation, right channel/);
  });

  it('tables every limit, gain and edges, the worst corners', () => {
    expect(lineWith(text, 'deviation, 30 Hz')).toMatch(/ L +25\.0 % +75\.0 % +<0\.1 % +−0\.40 +−0\.10 +\+0\.30 dB$/);
    expect(lineWith(text, 'roll-off −3 dB, L')).toContain('(75.0 % of boards)');
    expect(lineWith(text, 'balance low')).toMatch(/30 Hz +−2\.12 +C103 high, C104 low$/);
  });

  it('says what rests on a build, what was held and what was drawn alike', () => {
    expect(text).toContain('Tolerance usual for the build: R103–R105');
    expect(text).toContain('Held at their values, no tolerance known: L101');
    expect(text).toContain('Drawn alike: Q101 and Q102');
  });

  it.each([60, 80, 110])('fits %i cells', (width) => {
    expect(widestOf(spreadPage(answer, { ...page, width }))).toBeLessThanOrEqual(width);
  });
});
