import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { createCompute } from '../../src/compute/compute.ts';
import { createViews } from '../../src/compute/views.ts';
import type { DrawRequest, Drawn } from '../../src/contract/views.ts';
import { boardAlone, demo, jobText, viewOf } from './demo.ts';

// Several solves of the demo job, some seconds each on a busy machine.
const patience = 120_000;
const drawer = {
  path: 'drawer.csv',
  text: readFileSync(join(import.meta.dirname, '../../../../seeds/drawer.csv'), 'utf8'),
};

const views = createViews();
const wanted: Omit<DrawRequest, 'subject'> = {
  state: 'rebuilt',
  channel: 'left',
  title: 'left, rebuilt',
  volts: true,
  currents: false,
  shade: null,
  only: null,
};

async function draw(changed: Partial<DrawRequest>): Promise<Extract<Drawn, { ok: true }>> {
  const answer = await views.draw({ ...wanted, subject: demo(1), ...changed });
  if (!answer.ok) throw new Error('no drawing');
  return answer;
}

describe('the drawing for the page', { timeout: patience }, () => {
  it('names every part of its SVG, with the place it stands in and its value', async () => {
    const { svg, parts, nodes, text } = await draw({});
    const drawn = [...svg.matchAll(/data-ref="([^"]+)"/g)].map(([, ref]) => ref);
    expect(parts.map(({ ref }) => ref).toSorted()).toEqual(drawn.toSorted());
    expect(parts.find(({ ref }) => ref === 'D103.1')).toMatchObject({ position: 'D103', value: null });
    expect(parts.find(({ ref }) => ref === 'C103')?.value).toBeCloseTo(22e-6, 12);
    expect(nodes).toContain('leg');
    expect(text.join(' ')).toMatch(/Signal path: in – /);
  });

  it('shades by a figure or a node, and leaves out what carries nothing', async () => {
    expect((await draw({ shade: 'bass' })).svg).toContain('share in the deviation at 20 Hz');
    expect((await draw({ shade: 'leg' })).svg).toContain('share in the voltage of leg');
    expect((await draw({ shade: 'no such node' })).svg).not.toContain('Shaded');
    const dc = await draw({ only: { kind: 'dc' } });
    expect(dc.parts.map(({ ref }) => ref)).not.toContain('C101');
  });

  it('says what is wrong with a text', async () => {
    const subject = demo(7, jobText.replace('2.2 µF', '2,2 µF'));
    expect(await views.draw({ ...wanted, subject })).toMatchObject({ revision: 7, ok: false });
    expect((await views.draw({ ...wanted, subject: boardAlone(8) })).ok).toBe(true);
  });
});

describe('what is fitted', { timeout: patience }, () => {
  it('is drawn once for twins that go in alike', async () => {
    const fitted = await views.fit({ subject: demo(1), refs: ['Q101', 'Q102'] });
    expect(fitted).toMatchObject({ ok: true, drawings: [{ refs: ['Q101', 'Q102'] }] });
    expect(fitted.ok && fitted.lines.map(({ cause }) => cause)).toContainEqual(
      expect.stringContaining('turned by 180°'),
    );
  });

  it('says which way round, and draws a string', async () => {
    expect(await views.fit({ subject: demo(1), refs: ['C103'] })).toMatchObject({
      drawings: [],
      lines: [{ level: 'good', cause: 'C103: plus goes to leg, minus to gnd', next: null }],
    });
    expect(await views.fit({ subject: demo(1), refs: ['D103'] })).toMatchObject({ drawings: [{ refs: ['D103'] }] });
  });
});

describe('a part that is tried', { timeout: patience }, () => {
  it('moves the curve as the sheet draws it once it is written', async () => {
    const chosen = await views.choose({ subject: demo(1), refs: ['C103'], drawer, types: null }, () => undefined);
    if (!chosen.ok) throw new Error('nothing chosen');
    const [best] = chosen.place.candidates;
    if (best === undefined) throw new Error('an empty drawer');
    expect(chosen.place.refs).toEqual(['C103', 'C104']);
    const tried = await views.tryOut({ subject: demo(1), refs: chosen.place.refs, fit: best.fit });
    if (!tried.ok) throw new Error('not tried');
    const { curves } = viewOf(await createCompute().open(demo(2, tried.text)));
    tried.live.deviationDb.forEach((curve, c) => {
      // Two searches for the same bias end within a nanovolt of each other.
      expect(curve[50]).toBeCloseTo(curves.at(-1)?.deviationDb[c]?.[50] ?? NaN, 7);
    });
    expect(tried.live.at20HzDb[0]).toBeGreaterThan(-1.5);
    expect(tried.text.match(/#.*$/gm)).toEqual(jobText.match(/#.*$/gm));
  });
});
