import { describe, expect, it } from 'vitest';
import { marginsOf } from '../src/loop-margin.ts';

/** T = k / (1 + jf)³, f in kHz. */
const threePoles =
  (k: number) =>
  (hz: number): readonly [number, number] => {
    const f = hz / 1000;
    const [re, im] = [1 - 3 * f * f, 3 * f - f ** 3];
    const norm = re * re + im * im;
    return [(k * re) / norm, (-k * im) / norm];
  };

// Crossings are bisected to 1e-9 of the frequency, which in dB and degrees is under 1e-6.
const digits = 6;

describe('margins of three equal poles', () => {
  it('are 8/k at √3 of the corner, and 180° less three times the angle at unity', () => {
    const found = marginsOf(threePoles(4), true);
    expect(found.highestDb).toBeCloseTo(20 * Math.log10(4), 4);
    expect(found.gainMarginHz! / (1000 * Math.sqrt(3))).toBeCloseTo(1, digits);
    expect(found.gainMarginDb).toBeCloseTo(20 * Math.log10(2), digits);
    const unity = Math.sqrt(4 ** (2 / 3) - 1);
    expect(found.unityHz! / (1000 * unity)).toBeCloseTo(1, digits);
    expect(found.marginDeg).toBeCloseTo(180 - (3 * Math.atan(unity) * 180) / Math.PI, digits);
  });

  it('are below zero beyond eight', () => {
    const found = marginsOf(threePoles(16), false);
    expect(found.gainMarginDb).toBeCloseTo(-20 * Math.log10(2), digits);
    const unity = Math.sqrt(16 ** (2 / 3) - 1);
    expect(found.marginDeg).toBeCloseTo(180 - (3 * Math.atan(unity) * 180) / Math.PI, digits);
    expect(found.marginDeg).toBeLessThan(0);
  });

  it('below one there is no crossing of unity', () => {
    expect(marginsOf(threePoles(0.5), true)).toMatchObject({ unityHz: null, marginDeg: null });
  });
});

it('a loop of one pole is never in phase: no gain margin, 90° and a little', () => {
  const single = (hz: number): readonly [number, number] => {
    const f = hz / 100;
    return [1000 / (1 + f * f), (-1000 * f) / (1 + f * f)];
  };
  const found = marginsOf(single, true);
  expect(found).toMatchObject({ gainMarginHz: null, gainMarginDb: null });
  expect(found.marginDeg).toBeCloseTo(180 - (Math.atan(Math.sqrt(1e6 - 1)) * 180) / Math.PI, digits);
});
