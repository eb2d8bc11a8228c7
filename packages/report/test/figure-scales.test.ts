import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dbAxis, hzAxis, logAxis, plainAxis, roundTo125, shareAlong } from '../src/figure/scales.ts';

const texts = ({ ticks }: { ticks: readonly { readonly text: string }[] }): string =>
  ticks.map(({ text }) => text).join(' ');

describe('the axes', () => {
  it('carry the ticks of the trade over frequency', () => {
    expect(texts(hzAxis())).toBe('2 5 10 20 50 100 200 500 1k 2k 5k 10k 20k 50k 100k');
    expect(texts(hzAxis(20, 20_000))).toBe('20 50 100 200 500 1k 2k 5k 10k 20k');
    expect(texts(logAxis(10_000, 2e6, 'Ω'))).toBe('10k 20k 50k 100k 200k 500k 1M 2M');
    expect(texts(logAxis(500, 2000, 'mV', String))).toBe('500 1000 2000');
  });

  it('place values by their logarithm, or straight', () => {
    // 1 kHz lies log(500) of log(50 000) up from 2 Hz: 0.5744.
    expect(shareAlong(hzAxis(), 1000)).toBeCloseTo(Math.log(500) / Math.log(50_000), 14);
    expect(shareAlong(hzAxis(), 2)).toBe(0);
    expect(shareAlong(hzAxis(), 100_000)).toBe(1);
    expect(shareAlong(plainAxis(0, 8, 'V'), 2)).toBe(0.25);
  });

  it('sign decibels and keep zero among them', () => {
    expect(texts(dbAxis(-5.6, 1.7))).toBe('−6 −5 −4 −3 −2 −1 0 +1 +2');
    expect(texts(dbAxis(-0.7, 0.7))).toBe('−0.8 −0.6 −0.4 −0.2 0 +0.2 +0.4 +0.6 +0.8');
  });

  it('end a little past a tick rather than at the next one', () => {
    const axis = plainAxis(-0.1, 8.8, 'V');
    expect(texts(axis)).toBe('0 1 2 3 4 5 6 7 8 9');
    // 0.15 of a step, which shows 0.1 V below zero.
    expect(axis.from).toBeCloseTo(-0.15, 12);
    expect(axis.to).toBe(9);
  });

  it('hold everything they were made for, in ten steps and some overhang', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -90, max: 0, noNaN: true }),
        fc.double({ min: 0.01, max: 90, noNaN: true }),
        (low, high) => {
          for (const axis of [dbAxis(low, high), plainAxis(low, high, 'V')]) {
            expect(axis.from).toBeLessThanOrEqual(low);
            expect(axis.to).toBeGreaterThanOrEqual(high);
            expect(axis.ticks.length).toBeLessThanOrEqual(11);
            expect(axis.ticks.length).toBeGreaterThanOrEqual(2);
            expect(axis.ticks.some(({ at }) => at === 0)).toBe(true);
            for (const { at } of axis.ticks) expect(at >= axis.from && at <= axis.to).toBe(true);
          }
        },
      ),
      { seed: 20261125, numRuns: 300 },
    );
  });

  it('round to 1, 2 and 5 either way', () => {
    expect([3, 20, 0.0007, 1000].map((value) => roundTo125(value, true))).toEqual([2, 20, 0.0005, 1000]);
    expect([3, 20, 0.0007, 1000].map((value) => roundTo125(value, false))).toEqual([5, 20, 0.001, 1000]);
  });
});
