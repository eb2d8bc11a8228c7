import { describe, expect, it } from 'vitest';
import { looseSpread } from '../../src/suspect/loose-spread.ts';
import { monoBoard, stereoBoard } from '../stages.ts';

describe('how healthy parts stray', () => {
  it('is even within a stated tolerance: mean and spread of the logarithm', () => {
    const { circuit } = monoBoard('R1: { kind: resistor, value: 10 kΩ, tolerance: -10/+50 %, between: [in, out] }');
    const [group] = looseSpread(circuit, []).groups;
    let [sum, square] = [0, 0];
    const draws = 100_000;
    for (let n = 0; n < draws; n++) {
      const log = Math.log(0.9 + (0.6 * (n + 0.5)) / draws);
      sum += log;
      square += log ** 2;
    }
    // A sum over 10⁵ even places is exact to 10⁻⁹.
    expect(group!.mean).toBeCloseTo(sum / draws, 8);
    expect(group!.sigma).toBeCloseTo(Math.sqrt(square / draws - (sum / draws) ** 2), 8);
  });

  it('holds a part of no build and no tolerance, and moves matched parts together', () => {
    const { circuit } = stereoBoard(`
      R1/R2: { kind: resistor, value: 10 kΩ, between: [in, out] }
      R3/R4: { kind: resistor, build: metal_film, value: 10 kΩ, between: [out, gnd] }`);
    const apart = looseSpread(circuit, []);
    expect(apart.groups.map(({ name }) => name)).toEqual(['R3 value', 'R4 value']);
    const together = looseSpread(circuit, [['R3', 'R4']]);
    expect(together.groups).toHaveLength(1);
    expect(together.groups[0]!.members).toEqual([0, 1]);
  });
});
