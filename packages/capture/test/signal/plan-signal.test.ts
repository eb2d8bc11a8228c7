import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  highestSweepHz,
  planSignal,
  readSignalPlan,
  readWav,
  renderSignal,
  signalSteps,
  writeWav,
  type SignalWishes,
} from '../../src/index.ts';

const short: SignalWishes = {
  rate: 48_000,
  steps: signalSteps,
  shaping: 'flat',
  levelDbfs: -12,
  sweepSeconds: 1,
  silenceSeconds: 1,
  fromHz: 20,
  toHz: 20_000,
};

const wishes = fc.record({
  rate: fc.constantFrom(44_100, 48_000, 96_000),
  steps: fc.uniqueArray(fc.constantFrom(...signalSteps), { minLength: 1 }),
  shaping: fc.constantFrom('flat' as const, 'inverse_riaa' as const),
  levelDbfs: fc.double({ min: -60, max: -26, noNaN: true }),
  sweepSeconds: fc.double({ min: 0.3, max: 1.5, noNaN: true }),
  silenceSeconds: fc.double({ min: 0.1, max: 1, noNaN: true }),
  fromHz: fc.constantFrom(5, 20),
  toHz: fc.constantFrom(15_000, 19_800),
});

describe('a plan', () => {
  it('keeps whole frames, stands in order with room between, and is as long as it says', () => {
    fc.assert(
      fc.property(wishes, (wished) => {
        const { rate, seconds, segments } = planSignal(wished);
        const starts = segments.map(({ at }) => at * rate);
        const lengths = segments.map((each) => each.seconds * rate);
        [...starts, ...lengths, seconds * rate].forEach((frames) => {
          // Times are frames over the rate: a rounding error of the division is all that may be left.
          expect(Math.abs(frames - Math.round(frames))).toBeLessThan(1e-6);
        });
        segments.slice(1).forEach((each, n) => {
          const before = segments[n]!;
          expect(each.at - (before.at + before.seconds)).toBeGreaterThan(0.99);
        });
        expect(segments.map((each) => (each.kind === 'marker' ? each.role : null))).toEqual([
          'start',
          ...wished.steps.map(() => null),
          'end',
        ]);
      }),
      { seed: 20261125, numRuns: 200 },
    );
  });

  it('never plays above its peak, and comes near it', () => {
    fc.assert(
      fc.property(wishes, (wished) => {
        const plan = planSignal(wished);
        const highest = Math.max(
          ...renderSignal(plan).map((samples) => samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0)),
        );
        const db = 20 * Math.log10(highest);
        expect(db).toBeLessThanOrEqual(plan.peakDbfs + 1e-9);
        // The fade at the end of a shaped sweep takes off its last half decibel; sampling of the highest tones the rest.
        expect(db).toBeGreaterThan(plan.peakDbfs - 1);
      }),
      { seed: 20261125, numRuns: 5 },
    );
  });

  it('feeds left alone, right alone, or both alike', () => {
    const plan = planSignal({ ...short, steps: ['left', 'right', 'sweep'] });
    const [left, right] = renderSignal(plan);
    const power = (samples: Float64Array, n: number): number => {
      const { at, seconds } = plan.segments[n]!;
      return samples
        .subarray(Math.round(at * plan.rate), Math.round((at + seconds) * plan.rate))
        .reduce((sum, x) => sum + x * x, 0);
    };
    expect([power(left, 1) > 0, power(right, 1), power(left, 2), power(right, 2) > 0]).toEqual([true, 0, 0, true]);
    expect(power(left, 3)).toBe(power(right, 3));
    expect(power(left, 0)).toBe(power(right, 0));
  });

  it('plays a tone at its level: a sine of −12 dB has an rms of 0.25119/√2', () => {
    const plan = planSignal({ ...short, steps: ['level'] });
    const { at, seconds } = plan.segments[1]!;
    const [left] = renderSignal(plan);
    const middle = left.subarray((at + 0.5) * plan.rate, (at + seconds - 0.5) * plan.rate);
    // Whole periods: only rounding is left.
    expect(Math.sqrt(middle.reduce((sum, x) => sum + x * x, 0) / middle.length)).toBeCloseTo(
      10 ** (-12 / 20) / Math.SQRT2,
      12,
    );
  });

  it('goes up to 40 kHz, or 0.45 of the rate', () => {
    expect([48_000, 96_000, 192_000].map(highestSweepHz)).toEqual([21_600, 40_000, 40_000]);
  });

  it.each([
    ['a sweep past half the rate', { toHz: 24_000 }],
    ['a sweep downwards', { fromHz: 20_000, toHz: 20 }],
    ['no time', { sweepSeconds: 0 }],
    ['a rate below the markers', { rate: 8000, toHz: 3000 }],
  ])('throws for %s', (_, wrong) => {
    expect(() => planSignal({ ...short, ...wrong })).toThrow(RangeError);
  });
});

describe('silence stays silent', () => {
  it('also where the rest is dithered', () => {
    const plan = planSignal({ ...short, steps: ['silence', 'level'] });
    const wav = readWav(
      writeWav({ rate: plan.rate, bits: 16, format: 'pcm', channels: renderSignal(plan), dither: 1 }),
    );
    if (!wav.ok) throw new Error(wav.error.message);
    const { at, seconds } = plan.segments[1]!;
    const silence = wav.value.channels[0]!.subarray(at * plan.rate, (at + seconds) * plan.rate);
    expect(silence.every((x) => x === 0)).toBe(true);
  });
});

describe('a plan as a file', () => {
  it('reads back as it was written', () => {
    fc.assert(
      fc.property(wishes, (wished) => {
        const plan = planSignal(wished);
        const read = readSignalPlan(JSON.stringify(plan, null, 2), 'test.signal.json');
        expect(read).toEqual({ ok: true, value: plan });
      }),
      { seed: 20261125, numRuns: 100 },
    );
  });

  it.each([
    ['a word for a number', '"rate": 48000', '"rate": "fast"', 3, 11],
    ['an unknown stretch', '"kind": "level"', '"kind": "warble"', 19, 15],
    ['a stretch past the end', '"seconds": 3,', '"seconds": 300,', 21, 18],
    ['more than memory holds', /"seconds": [\d.]+,/, '"seconds": 1e9,', 4, 14],
    ['not finite', '"rate": 48000', '"rate": 1e999', 3, 11],
  ])('%s is refused at its place', (_, was, is, line, column) => {
    const text = JSON.stringify(planSignal(short), null, 2).replace(was, is);
    const read = readSignalPlan(text, 'test.signal.json');
    expect(read.ok ? [] : read.diagnostics.map(({ code, place }) => [code, place.line, place.column])).toContainEqual([
      'wrong-form',
      line,
      column,
    ]);
  });

  it.each(['', '{', '[]', 'RIFF', '1'])('%j is no plan', (text) => {
    expect(readSignalPlan(text, 'x').ok).toBe(false);
  });

  it('is not mistaken for a board file', () => {
    const board = readFileSync(new URL('../../../../fixtures/broken/good.board.yaml', import.meta.url), 'utf8');
    expect(readSignalPlan(board, 'x').ok).toBe(false);
  });
});
