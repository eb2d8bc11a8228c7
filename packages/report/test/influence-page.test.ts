import type { Influence, InfluenceAnswer } from '@curvewright/verify';
import { describe, expect, it } from 'vitest';
import { influencePage } from '../src/index.ts';

const row = (ref: string, parameter: string, dbPerPercent: number, more: Partial<Influence> = {}): Influence => ({
  ref,
  parameter,
  nominal: 1,
  tolerance: null,
  gainDbPerPercent: 0,
  deviationDbPerPercent: [
    { hz: 20, db: dbPerPercent / 2 },
    { hz: 10_000, db: 0 },
  ],
  nodeMvPerPercent: [],
  worst: { hz: 30, dbPerPercent, atToleranceDb: null },
  ...more,
});

/** An invented answer. */
const answer: InfluenceAnswer = {
  band: { fromHz: 30, toHz: 15_000 },
  floor: { db: 1e-6, mv: 1e-3 },
  channels: [
    {
      name: 'left',
      parts: [
        row('C103', 'value', 0.018, {
          tolerance: { minus: 0.2, plus: 0.8, stated: true },
          worst: { hz: 30, dbPerPercent: 0.018, atToleranceDb: 1.432 },
        }),
        row('Q103', 'hFE', -0.008, {
          nodeMvPerPercent: [
            { node: 'c1', mv: 0.2 },
            { node: 'c2', mv: -2.3 },
          ],
        }),
        row('R111', 'value', 0.001, { gainDbPerPercent: -0.0779 }),
        ...Array.from({ length: 20 }, (_, i) => row(`R${200 + i}`, 'value', 1e-5)),
      ],
      supplyAndLoad: [row('vcc', 'volts', 0, { nodeMvPerPercent: [{ node: 'vcc', mv: 310 }] })],
    },
  ],
};

const page = (width: number): string =>
  influencePage(answer, { title: 'invented', state: 'drawn', width, colour: false });

describe('the influence page', () => {
  const lines = page(100).split('\n');
  const lineWith = (text: string): string => lines.find((line) => line.includes(text)) ?? '';

  it('ranks what moves the curve, with tolerance, bass, treble, gain and bias beside it', () => {
    expect(lineWith('C103 ').trim().split(/ {2,}/)).toEqual([
      'C103',
      'value',
      '+0.0180',
      '30 Hz',
      '−20/+80 %',
      '1.43',
      '+0.0090',
      '0.0000',
      '0.0000',
      '–',
    ]);
    expect(lineWith('Q103  hFE')).toContain('c2 −2.3');
    expect(lines.indexOf(lineWith('C103  value'))).toBeLessThan(lines.indexOf(lineWith('Q103  hFE')));
    expect(lineWith('R209')).toBe('');
  });

  it('names what moves most within tolerance, in gain and in bias', () => {
    expect(lineWith('Within its own tolerance')).toContain('C103 1.432');
    expect(lineWith('Gain at 1 kHz most')).toContain('R111 −0.078');
    expect(lineWith('Bias most')).toContain('Q103 hFE (c2 −2.3)');
    expect(lineWith('Bias by supply')).toContain('vcc volts (vcc +310.0)');
  });

  it('keeps to its width', () => {
    for (const width of [60, 80, 110]) {
      for (const line of page(width).split('\n')) expect([...line].length).toBeLessThanOrEqual(width);
    }
  });
});
