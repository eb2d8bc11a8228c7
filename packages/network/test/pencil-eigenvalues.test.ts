import { describe, expect, it } from 'vitest';
import { finiteSpectrum } from '../src/pencil-eigenvalues.ts';
import { ladderPolynomial, newtonStep } from './exact-ladder.ts';

describe('the spectrum before it is sharpened', () => {
  it('is near enough at both ends of fifteen decades, where one decomposition drowns the slow end', () => {
    const sections: readonly (readonly [number, number])[] = [
      [1e6, 1e-12],
      [10, 100e-6],
      [1e5, 1e-9],
      [3, 22e-6],
      [2e6, 5e-12],
      [50, 1e-6],
      [1e7, 470e-6],
    ];
    const size = sections.length;
    const conductance = new Float64Array(size * size);
    const capacitance = new Float64Array(size * size);
    sections.forEach(([ohms, farads], n) => {
      capacitance[n * size + n] = farads;
      conductance[n * size + n] = conductance[n * size + n]! + 1 / ohms;
      if (n === 0) return;
      const before = (n - 1) * size + n - 1;
      conductance[before] = conductance[before]! + 1 / ohms;
      conductance[before + 1] = -1 / ohms;
      conductance[before + size] = -1 / ohms;
    });
    const { values } = finiteSpectrum({ size, conductance, capacitance })!;
    const polynomial = ladderPolynomial(sections);
    expect(values).toHaveLength(size);
    // Entries 1e9 times the slow ones leave 1e-16 of themselves in them: 1e-7 with one decomposition, its square root's worth with both.
    for (const { re } of values) expect(Math.abs(newtonStep(polynomial, re) / re)).toBeLessThan(1e-9);
  });

  it('holds what is zero by structure at zero, last', () => {
    // Two capacitors in series between sources of current only: 1 F each, 1 S across the first.
    const spectrum = finiteSpectrum({
      size: 2,
      conductance: Float64Array.of(1, 0, 0, 0),
      capacitance: Float64Array.of(1, 0, 0, 1),
    })!;
    expect(spectrum).toMatchObject({ atOrigin: 1, sum: -1, reciprocalSum: -1 });
    expect(spectrum.values.map(({ re }) => re)).toEqual([-1, 0]);
  });

  it('is none where the pencil is singular at every s', () => {
    const conductance = Float64Array.of(1, 1, 1, 1);
    expect(finiteSpectrum({ size: 2, conductance, capacitance: conductance })).toBeNull();
  });
});
