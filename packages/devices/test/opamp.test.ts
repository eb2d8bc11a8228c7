import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cornerWidth, opAmp, reach, saturate } from '../src/index.ts';
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

/** Swing 1.5 V below the upper and 0.2 V above the lower supply. */
const swinging = opAmp({ kind: 'opamp', swing: { above: 1.5, below: 0.2 } });

function reached(z: number, negative: number, positive: number): [number, number, number, number] {
  const out = new Float64Array(4);
  reach(swinging, z, negative, positive, out);
  return [out[0]!, out[1]!, out[2]!, out[3]!];
}

test('between wide supplies an op-amp stands at its limits, between narrow ones in their middle', () => {
  expect(reached(1, -15, 15)).toEqual([1, 1, 0, 0]);
  expect(reached(99, -15, 15)).toEqual([13.5, 0, 0, 1]);
  expect(reached(-99, -15, 15)).toEqual([-14.8, 0, 1, 0]);
  fc.assert(
    fc.property(between(0, 0.4), between(-20, 20), between(-50, 50), (gap, negative, z) => {
      const [v] = reached(z, negative, negative + gap);
      // Limits that meet leave a quarter of the corner, and 20 V its rounding.
      expect(Math.abs(v - (negative + gap / 2))).toBeLessThan(cornerWidth / 4 + 1e-14);
    }),
    run,
  );
});

test('its derivatives by the supplies are the central differences, narrow ones included', () => {
  const step = 2 ** -20;
  fc.assert(
    fc.property(between(-20, 20), between(0, 4), between(-25, 25), (negative, gap, z) => {
      const at = [z, negative, negative + gap];
      // Where a limit gives way to the middle the slope itself jumps.
      if (Math.abs(gap - 0.4) < 0.01 || Math.abs(gap - 3) < 0.01) return;
      at.forEach((_, k) => {
        const moved = (by: number): [number, number, number, number] => {
          const [wish, low, high] = at.map((v, index) => (index === k ? v + by : v));
          return reached(wish!, low!, high!);
        };
        const difference = (moved(step)[0] - moved(-step)[0]) / (2 * step);
        // As for `saturate`.
        expect(Math.abs(difference - moved(0)[k + 1]!)).toBeLessThan(3e-4);
      });
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
    inversePsrr: 0,
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
    PSRR: 1e4,
  });
  expect(model).toEqual({
    inverseGain: 1e-5,
    inverseGbw: 1 / (2 * Math.PI * 8e6),
    Rout: 50,
    above: 1.5,
    below: 2,
    inversePsrr: 1e-4,
    voltageNoise: { density: 4e-9 ** 2, corner: 30 },
    currentNoise: { density: 0.5e-12 ** 2, corner: 0 },
  });
});
