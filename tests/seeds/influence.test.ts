import { describe, expect, it } from 'vitest';
import { beyond, compareSlopes } from '../../packages/network/test/compare-slopes.ts';
import { seedBoard, seedNames } from './read-seeds.ts';

describe('sensitivities of the demo boards', { timeout: 60_000 }, () => {
  it.each(seedNames)('%s: every value and figure agrees with stages solved anew', (name) => {
    const compared = compareSlopes(seedBoard(name).circuit, Float64Array.of(2, 20, 1000, 10_000, 100_000));
    expect(compared!.length).toBeGreaterThan(70 * 20);
    // A millionth of the slope; below 1e-3 the noise of the solves anew shows: 1e-12 of a gain at 2 Hz over the least step of 1/800. The
    // floor is 1e-10 dB per percent.
    const { wrong, doubtful } = beyond(compared!, 2e-9);
    expect(wrong).toEqual([]);
    expect(doubtful).toBeLessThan(0.02 * compared!.length);
  });
});
