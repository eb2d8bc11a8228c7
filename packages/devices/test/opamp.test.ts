import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cornerWidth, opAmp, saturate } from '../src/index.ts';
import { between, run } from './invented-types.ts';

function saturated(z: number, low: number, high: number): [number, number, number, number] {
  const out = new Float64Array(4);
  saturate(z, low, high, out);
  return [out[0]!, out[1]!, out[2]!, out[3]!];
}

const limits = fc.tuple(between(-20, 20), between(0, 30));

/** Wished voltages all over, and close to a limit. */
const wished = fc.tuple(
  fc.constantFrom('low', 'high', 'anywhere'),
  between(-2 * cornerWidth, 2 * cornerWidth),
  between(-50, 50),
);

function place([where, near, far]: [string, number, number], low: number, high: number): number {
  if (where === 'anywhere') return far;
  return near + (where === 'low' ? low : high);
}

test('inside the corners nothing is bent, to the last bit; outside it is the limit', () => {
  fc.assert(
    fc.property(limits, between(-50, 50), ([low, span], z) => {
      const high = low + span;
      const answer = saturated(z, low, high);
      if (z >= low + cornerWidth && z <= high - cornerWidth) expect(answer).toEqual([z, 1, 0, 0]);
      if (span > 2 * cornerWidth && z >= high + cornerWidth) expect(answer).toEqual([high, 0, 0, 1]);
      if (z <= low - cornerWidth) expect(answer).toEqual([low, 0, 1, 0]);
    }),
    run,
  );
});

test('the derivatives are the central differences, corners included', () => {
  const step = 2 ** -20;
  fc.assert(
    fc.property(limits, wished, ([low, span], where) => {
      const at = [place(where, low, low + span), low, low + span] as const;
      at.forEach((_, k) => {
        const moved = (by: number): [number, number, number, number] => {
          const [z, bottom, top] = at.map((v, index) => (index === k ? v + by : v));
          return saturated(z!, bottom!, top!);
        };
        const [below, above] = [moved(-step), moved(step)];
        const difference = (above[0] - below[0]) / (2 * step);
        // The slope moves by step/(2·cornerWidth) over half the step, 1e-4, twice that where both corners overlap.
        expect(Math.abs(difference - moved(0)[k + 1]!)).toBeLessThan(3e-4);
      });
    }),
    run,
  );
});

test('the output never leaves the limits, nor does crossing them break it', () => {
  fc.assert(
    fc.property(limits, wished, ([low, span], where) => {
      const [v] = saturated(place(where, low, low + span), low, low + span);
      // One rounding of a voltage of tens of volts.
      expect(v).toBeGreaterThanOrEqual(low - 1e-14);
      expect(v).toBeLessThanOrEqual(Math.max(low + span, low + cornerWidth) + 1e-14);
      expect(saturated(place(where, low, low + span), low, low - span - 1)[0]).toBe(low);
    }),
    run,
  );
});

test('silent figures are ideal, stated ones are turned into what the equations need', () => {
  const none = { density: 0, corner: 0 };
  expect(opAmp({ kind: 'opamp' })).toEqual({
    inverseGain: 0,
    inverseGbw: 0,
    Rout: 0,
    above: 0,
    below: 0,
    voltageNoise: none,
    currentNoise: none,
  });
  const model = opAmp({
    kind: 'opamp',
    gain: 1e5,
    GBW: 8e6,
    Rout: 50,
    swing: { above: 1.5, below: 2 },
    en: 4e-9,
    enCorner: 30,
    in: 0.5e-12,
  });
  expect(model).toEqual({
    inverseGain: 1e-5,
    inverseGbw: 1 / (2 * Math.PI * 8e6),
    Rout: 50,
    above: 1.5,
    below: 2,
    voltageNoise: { density: 4e-9 ** 2, corner: 30 },
    currentNoise: { density: 0.5e-12 ** 2, corner: 0 },
  });
});
