import { describe, expect, it } from 'vitest';
import type { Hit } from '../../src/pops/hits.ts';
import type { Pops } from '../../src/pops/pop-detector.ts';
import { popsAnswer } from '../../src/pops/pops-answer.ts';
import { popsChange } from '../../src/pops/pops-change.ts';

function hit(at: number, height: number, kind: Hit['kind'] = 'click'): Hit {
  return { at, height, kind, clicks: kind === 'burst' ? 7 : 1, lasts: kind === 'burst' ? 0.2 : 0 };
}

function found(seconds: number, hits: readonly Hit[], least: number = 1e-4): Pops {
  return { seconds, hits, least: { click: least, step: least / 2 }, drift: null, clipped: 0 };
}

const bare = { recorderV: null, gainDb: [null, null] };

describe('the answer', () => {
  const left = found(1200, []);
  const right = found(1200, [hit(3, 0.002), hit(5.001, -0.004, 'step'), hit(90, 0.003, 'burst')]);
  const both = found(1200, [hit(5.004, 0.001), hit(700, 0.001)]);

  it('refers heights to the input', () => {
    const { channels } = popsAnswer([left, right], ['left', 'right'], { recorderV: 2, gainDb: [40, 34] });
    // 0.002 of the peak of 2 V rms, over 10^(34/20).
    expect(channels[1]!.hits[0]!.uv).toBeCloseTo((1e6 * 0.002 * 2 * Math.SQRT2) / 50.1187, 2);
    expect(channels[1]!.hits[1]!.uv).toBeLessThan(0);
    expect(channels[0]!.least.click!.uv).toBeCloseTo((1e6 * 1e-4 * 2 * Math.SQRT2) / 100, 9);
  });

  it('leaves them out where recorder or gain is not known', () => {
    for (const calibration of [bare, { recorderV: 2, gainDb: [null, null] }, { recorderV: null, gainDb: [40, 40] }]) {
      const { channels } = popsAnswer([left, right], ['left', 'right'], calibration);
      expect(channels[1]!.hits.map(({ uv }) => uv)).toEqual([null, null, null]);
    }
  });

  it('counts a burst once, and bounds the rate', () => {
    const { channels, together } = popsAnswer([left, right], ['left', 'right'], bare);
    expect(channels[0]).toMatchObject({ count: 0, clicks: 0, minutes: 20, ratePerMin: 0, rateLowPerMin: 0 });
    expect(channels[0]!.rateHighPerMin).toBeCloseTo(0.14979, 5);
    expect(channels[1]).toMatchObject({ count: 3, clicks: 9, ratePerMin: 0.15 });
    expect(together).toEqual({ count: 0, byChance: 0 });
  });

  it('tells what comes in both channels', () => {
    const { channels, together } = popsAnswer([both, right], ['left', 'right'], bare);
    expect(channels.map(({ hits }) => hits.map((each) => each.both))).toEqual([
      [true, false],
      [false, true, false],
    ]);
    expect(together!.count).toBe(1);
    // 2·3 pairs, 20 ms of 1200 s for each.
    expect(together!.byChance).toBeCloseTo((6 * 0.02) / 1200, 12);
    expect(popsAnswer([right], ['mono'], bare).together).toBeNull();
  });
});

describe('before and after', () => {
  const many = Array.from({ length: 24 }, (_, n) => hit(n + 1, 0.01));

  it('calls fewer fewer', () => {
    const [change] = popsChange(
      popsAnswer([found(1200, many)], ['mono'], bare),
      popsAnswer([found(1200, [])], ['mono'], bare),
    );
    expect(change).toMatchObject({ name: 'mono', before: 24, after: 0, ratio: 0, verdict: 'fewer' });
    const [back] = popsChange(
      popsAnswer([found(1200, [])], ['mono'], bare),
      popsAnswer([found(1200, many)], ['mono'], bare),
    );
    expect(back).toMatchObject({ before: 0, after: 24, ratio: null, ratioHigh: null, verdict: 'more' });
  });

  it('shows nothing in two short recordings', () => {
    const [change] = popsChange(
      popsAnswer([found(60, [hit(1, 0.01)])], ['mono'], bare),
      popsAnswer([found(60, [])], ['mono'], bare),
    );
    expect(change).toMatchObject({ before: 1, after: 0, chance: 1, verdict: 'no change shown' });
  });

  it('does not count what the other recording would have hidden', () => {
    const low = Array.from({ length: 24 }, (_, n) => hit(n + 1, 2e-4));
    const noisy = popsAnswer([found(1200, [], 5e-4)], ['mono'], bare);
    const [change] = popsChange(noisy, popsAnswer([found(1200, low)], ['mono'], bare));
    expect(change).toMatchObject({ before: 0, after: 0, verdict: 'no change shown' });
  });

  it('compares at the input where both are calibrated, though the recorder was set otherwise', () => {
    const quiet = popsAnswer([found(1200, many, 1e-3)], ['mono'], { recorderV: 1, gainDb: [40] });
    const loud = popsAnswer([found(1200, [], 0.02)], ['mono'], { recorderV: 0.02, gainDb: [40] });
    // 0.01 of 1 V is above 0.02 of 20 mV.
    expect(popsChange(quiet, loud)[0]).toMatchObject({ before: 24, after: 0 });
  });
});
