import { describe, expect, it } from 'vitest';
import { createCompute } from '../../src/compute/compute.ts';
import { demo, legsOf, viewOf } from './demo.ts';

describe('drag', async () => {
  const compute = createCompute();
  await compute.open(demo(1));

  it('shows what opening the job with that value shows', async () => {
    const { live } = await compute.drag({ revision: 2, refs: ['C103', 'C104'], value: 33e-6 });
    const view = viewOf(await createCompute().open(demo(3, legsOf('33 µF'))));
    const [curve, sheet] = [view.curves.at(-1), view.states.at(-1)];
    for (const c of [0, 1]) {
      const [moved, opened] = [live?.deviationDb[c], curve?.deviationDb[c]];
      expect(moved?.length).toBe(curve?.hz.length);
      // Fixed pivots and one refinement against full pivoting: 1e-9 of the gain is 1e-8 dB.
      moved?.forEach((db, n) => {
        expect(Math.abs(db - (opened?.[n] ?? NaN))).toBeLessThan(1e-7);
      });
      expect(live?.gainDb[c]).toBeCloseTo(sheet?.channels[c]?.gainDb ?? NaN, 6);
      expect(live?.at20HzDb[c]).toBeCloseTo(
        sheet?.channels[c]?.points.find(({ hz }) => hz === 20)?.deviationDb ?? NaN,
        6,
      );
      // The sheet searches between the points of the grid.
      expect(live?.worstDb[c]).toBeCloseTo(sheet?.channels[c]?.worstDeviationDb ?? NaN, 3);
    }
    expect(live?.balanceDb).toBeCloseTo(sheet?.balanceDb ?? NaN, 3);
  });

  it('moves one channel alone where one position is named', async () => {
    const { live } = await compute.drag({ revision: 4, refs: ['C103'], value: 4.7e-6 });
    expect(live?.at20HzDb[0]).toBeLessThan(-3);
    expect(live?.at20HzDb[1]).toBeGreaterThan(-2);
  });

  it('moves nothing without a value, and before anything is open', async () => {
    const nothing = { revision: 5, live: null };
    expect(await compute.drag({ revision: 5, refs: ['Q101'], value: 1 })).toEqual(nothing);
    expect(await compute.drag({ revision: 5, refs: ['C103'], value: 0 })).toEqual(nothing);
    expect(await createCompute().drag({ revision: 5, refs: ['C103'], value: 1e-6 })).toEqual(nothing);
  });
});
