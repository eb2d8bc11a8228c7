import { beforeAll, describe, expect, it } from 'vitest';
import { figureRows } from '@curvewright/report';
import { createCompute } from '../../src/compute/compute.ts';
import type { LiveCurves, SheetView } from '../../src/contract/compute.ts';
import { ladderStep, nearestRung } from '../../src/page/sheet/ladder.ts';
import { cellOf, shownStates } from '../../src/page/sheet/shown-states.ts';
import { demo, legsOf, rowOf, viewOf } from '../compute/demo.ts';

describe('numbers under the hand', { timeout: 60_000 }, () => {
  const compute = createCompute();
  let view: SheetView;
  let fitted: SheetView;
  let live: LiveCurves | null;

  beforeAll(async () => {
    fitted = viewOf(await compute.open(demo(1, legsOf('47 µF'))));
    view = viewOf(await compute.open(demo(2)));
    live = (await compute.drag({ revision: 2, refs: ['C103', 'C104'], value: 47e-6 })).live;
  });

  it('are those of the sheet once the value is fitted, and say what they do not know', () => {
    const rows = figureRows(view.channels, view.states[0] ?? expect.fail());
    const moving = shownStates(view, null, live).at(-1) ?? expect.fail();
    const after = shownStates(fitted, null, null).at(-1) ?? expect.fail();
    const cells = rows.map((row) => ({ label: row.label, now: cellOf(moving, row, 1), then: cellOf(after, row, 1) }));
    const known = cells.filter(({ now }) => !now.isOld && /\d/.test(now.text));
    expect(known.map(({ label }) => label)).toEqual(
      expect.arrayContaining(['gain 1 kHz', 'worst deviation', '20 Hz', '30 Hz', '15 kHz', 'balance']),
    );
    // Both are printed in hundredths of a dB; a spot between two points of the grid may round to the next one.
    for (const { label, now, then } of known) {
      const [moved, computed] = [now.text, then.text].map((text) => Number(text.replace('−', '-')));
      expect(Math.abs((moved ?? NaN) - (computed ?? NaN)), label).toBeLessThan(0.015);
    }
    expect(cells.find(({ label }) => label.startsWith('roll-off'))?.now.isOld).toBe(true);
  });

  it('step through the preferred values from what is shown, also before it is written', () => {
    const [field] = rowOf(view, 'C103').fields.filter(({ path }) => path === 'fit.value');
    if (!field?.ladder) return expect.fail('C103 has no ladder');
    const up = ladderStep(field, '22 µF', 1);
    expect(up).toBe(field.higher);
    expect(ladderStep(field, up ?? '', -1)).toBe('22 µF');
    expect(ladderStep(field, field.ladder.at(-1)?.written ?? '', 1)).toBeNull();
    expect(field.ladder[nearestRung(field.ladder, 22.4e-6)]?.written).toBe('22 µF');
    return undefined;
  });
});
