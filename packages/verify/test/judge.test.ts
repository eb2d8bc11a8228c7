import { mergeLimits } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import type { Figure } from '../src/figure.ts';
import { levelOf, marginTo, worstLevel, type Level } from '../src/index.ts';

/** What of a figure a limit looks at. */
function judged(side: Figure['side'], good: number, look: number): Figure {
  const none = (): number => NaN;
  return {
    ...{ what: 'bass', channel: 0, value: NaN, unit: 'dB', hz: 20, where: 'at 20 Hz', search: none, follow: none },
    side,
    good,
    look,
  };
}

/** A hair: the next number that a double holds, away from 0. */
const beyond = (value: number): number => value * (1 + Number.EPSILON);

describe('levelOf', () => {
  it.each([
    ['at most', 1.5, 3],
    ['within', 0.5, 1],
  ] as const)('%s: good up to the limit itself, look a hair beyond, fail beyond look', (side, good, look) => {
    const figure = judged(side, good, look);
    const level = (value: number): Level => levelOf(figure, value);
    expect([0, good, beyond(good), look, beyond(look), 1e9].map(level)).toEqual([
      'good',
      'good',
      'look',
      'look',
      'fail',
      'fail',
    ]);
  });

  it('within: the same on the negative side; at most: anything below is good', () => {
    const within = judged('within', 0.5, 1);
    expect([-0.5, beyond(-0.5), -1, beyond(-1)].map((value) => levelOf(within, value))).toEqual([
      'good',
      'look',
      'look',
      'fail',
    ]);
    expect(levelOf(judged('at most', 1.5, 3), -1e9)).toBe('good');
  });

  it('at least: good down to the limit itself, fail below look', () => {
    const figure = judged('at least', -1.5, -3);
    const values = [10, -1.5, beyond(-1.5), -3, beyond(-3)];
    expect(values.map((value) => levelOf(figure, value))).toEqual(['good', 'good', 'look', 'look', 'fail']);
  });

  it('fails what is not a number: a response that could not be solved', () => {
    for (const side of ['at least', 'at most', 'within'] as const)
      expect(levelOf(judged(side, 1, 2), NaN)).toBe('fail');
  });

  it('stands by the published boundaries of the default limits', () => {
    // Common practice, no source: bass at 20 Hz good to −1.5 dB, look to −3 dB; deviation ±0.5 and ±1 dB.
    const { bass, deviation } = mergeLimits();
    expect(levelOf(judged('at least', bass.good, bass.look), -1.5)).toBe('good');
    expect(levelOf(judged('at least', bass.good, bass.look), -3.01)).toBe('fail');
    expect(levelOf(judged('within', deviation.good, deviation.look), -1)).toBe('look');
  });
});

describe('marginTo', () => {
  it('is positive inside the limit, in the unit of the figure', () => {
    expect(marginTo(judged('at least', -1.5, -3), -1.5, -0.5)).toBe(1);
    expect(marginTo(judged('at most', 3, 6), 3, 5)).toBe(-2);
    expect(marginTo(judged('within', 10, 20), 10, -12)).toBe(-2);
  });
});

describe('worstLevel', () => {
  it('ranks fail over not measured over look over good', () => {
    const ranked: readonly Level[] = ['good', 'look', 'not measured', 'fail'];
    ranked.forEach((worse, i) => {
      ranked.slice(0, i + 1).forEach((better) => {
        expect(worstLevel([better, worse])).toBe(worse);
        expect(worstLevel([worse, better])).toBe(worse);
      });
    });
    expect(worstLevel([])).toBe('good');
  });
});
