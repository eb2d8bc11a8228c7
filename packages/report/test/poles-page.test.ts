import type { PoleRow, PolesAnswer } from '@curvewright/verify';
import { describe, expect, it } from 'vitest';
import { polesPage } from '../src/index.ts';
import { lineWith, widestOf } from './lines.ts';

const options = { title: 'Larkfield LK 417', state: 'rebuilt', width: 80, colour: false } as const;

const pole = (realPerS: number, imagPerS: number, refs: readonly string[]): PoleRow => {
  const size = Math.hypot(realPerS, imagPerS);
  return {
    realPerS,
    imagPerS,
    hz: size / (2 * Math.PI),
    q: imagPerS === 0 ? null : size / (2 * Math.abs(realPerS)),
    residual: 3e-10,
    parts: refs.map((ref) => ({ ref, hzPercentPerPercent: -0.25, qPercentPerPercent: imagPerS === 0 ? null : 0.15 })),
  };
};
const radio = pole(-2e7, 5e7, ['Q101', 'Q102']);
const subsonic = pole(-4, 14, ['C101', 'C102', 'R103']);

const answer: PolesAnswer = {
  source: 'shorted',
  poles: [radio, { ...radio, imagPerS: -5e7 }, pole(-300, 0, ['C109']), subsonic, { ...subsonic, imagPerS: -14 }],
  zeros: [
    { channel: 'left', ...pole(-2000, 0, []) },
    { channel: 'left', ...pole(-300.5, 0, []) },
    { channel: 'left', ...pole(1e9, 2e9, []) },
    { channel: 'left', ...pole(1e9, -2e9, []) },
    { channel: 'right', ...pole(-300.5, 0, []) },
  ],
  stable: true,
  worst: subsonic,
  subsonic,
  radio,
  loops: [
    {
      channel: 'left',
      lead: 'Q103.base',
      highestDb: 51.5,
      unityHz: 65.4e6,
      marginDeg: 69.12,
      gainMarginHz: null,
      gainMarginDb: null,
    },
  ],
  checks: { rank: 6, count: 5, largestResidual: 3e-10, sumError: 0, reciprocalSumError: 0, logProductError: 0 },
  notes: ['Loss factors count as a series resistance.'],
};

describe('the page of poles', () => {
  const page = polesPage(answer, options);

  it('says whether the stage is stable, in the heading', () => {
    expect(page.split('\n')[0]).toBe('Larkfield LK 417, as rebuilt: stable');
    expect(polesPage({ ...answer, stable: false }, options).split('\n')[0]).toMatch(/: unstable$/);
  });

  it('names the pairs by what moves them, frequency and Q', () => {
    expect(lineWith(page, 'below 20 Hz')).toMatch(/2\.32 Hz +1\.82 +C101 −0\.25 \+0\.15, C102 −0\.25/);
    expect(lineWith(page, 'above 100 kHz')).toMatch(/8\.57 MHz +1\.35 +Q101/);
    const bare = polesPage({ ...answer, subsonic: null }, options);
    expect(lineWith(bare, 'below 20 Hz')).toMatch(/no pair/);
  });

  it('shows a growing pair as one', () => {
    const growing = pole(4, 14, ['C101']);
    expect(lineWith(polesPage({ ...answer, worst: growing }, options), 'highest Q')).toMatch(/1\.82 growing/);
  });

  it('gives each loop its margin, or says how to name one', () => {
    expect(lineWith(page, 'Q103.base')).toMatch(/Q103\.base, left +51\.5 +65\.4 MHz +69\.1 +– +–/);
    expect(polesPage({ ...answer, loops: [] }, options)).toMatch(/loop: \{ lead: Q103\.base \}/);
  });

  it('lists a pair once, real poles without a Q', () => {
    expect(page.split('\n').filter((line) => line.includes('8.57 MHz'))).toHaveLength(2);
    expect(lineWith(page, 'C109')).toMatch(/47\.7 Hz +3\.33 ms +C109/);
  });

  it('leaves out zeros that a pole cancels, and says in which half the others lie', () => {
    expect(lineWith(page, 'Zeros, left')).toBe('Zeros, left: 318 Hz, 356 MHz (Q 1.12) right half.');
    expect(lineWith(page, 'Zeros, right')).toBe('Zeros, right: none.');
  });

  it('says what it stands on, within the width', () => {
    expect(page).toMatch(/5 poles of 6 independent/);
    expect(page).toMatch(/Loss factors count as a series resistance/);
    expect(page).toMatch(/nothing was measured/);
    expect(widestOf(page)).toBeLessThanOrEqual(80);
  });
});
