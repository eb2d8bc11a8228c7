import { circuitOf, circuitWithOnly } from '@curvewright/board';
import { gainReader, solveStage } from '@curvewright/verify';
import { describe, expect, it } from 'vitest';
import { createCompute } from '../../src/compute/compute.ts';
import { boardAlone, demo, demoJob, jobText, legsOf, rowOf, valueOf, viewOf } from './demo.ts';

describe('open', async () => {
  const compute = createCompute();
  const view = viewOf(await compute.open(demo(1)));
  const job = demoJob();

  it('has the sheet with all states, and leaves the verdict to told', () => {
    expect(view).toMatchObject({ title: job.entry.title, channels: ['left', 'right'], unsolved: [], check: null });
    expect(view.states.map(({ state }) => state)).toEqual(['drawn', 'found', 'rebuilt']);
    expect(view.rows.map(({ key }) => key)).toEqual(Object.keys(job.entry.positions ?? {}));
    expect(view.head).toMatchObject({ serial: '0104417', technician: 'initials' });
  });

  it('draws every state as a solve of it alone does', () => {
    for (const { state, hz, deviationDb, gainDb } of view.curves) {
      const reader = gainReader(valueOf(solveStage(circuitOf(job, state)?.circuit ?? fail(state))));
      expect([hz[0], hz.at(-1)]).toEqual([2, 100_000]);
      for (const named of [20, 1000]) expect(hz).toContain(named);
      for (const n of [0, 50, 150, hz.length - 1]) {
        // The same solve at the same frequency.
        expect(deviationDb[1]?.[n]).toBeCloseTo(reader.deviationDb(1, hz[n] ?? NaN), 10);
        expect(gainDb[0]?.[n]).toBeCloseTo(reader.gainDb(0, hz[n] ?? NaN), 10);
      }
    }
  });

  it('says of a row what it does alone, twins together', () => {
    const reader = (refs: readonly string[]): ReturnType<typeof gainReader> =>
      gainReader(valueOf(solveStage(circuitWithOnly(job, refs))));
    const [drawn, cans] = [reader([]), reader(['C107', 'C108'])];
    const { refs, effect } = rowOf(view, 'C107/C108');
    expect(refs).toEqual(['C107', 'C108']);
    // Two searches for the same bias end within a nanovolt of each other.
    expect(effect?.at20HzDb).toBeCloseTo(cans.deviationDb(0, 20) - drawn.deviationDb(0, 20), 7);
    // Twins alike leave the balance as it was.
    expect(effect?.balanceDb).toBeCloseTo(0, 7);
    expect(rowOf(view, 'C101').effect?.balanceDb).toBeGreaterThan(0.1);
    expect(rowOf(view, 'R111').effect).toBeNull();
  });

  it('offers what can be edited, as written, with the next preferred values', () => {
    const field = (key: string, path: string): unknown => rowOf(view, key).fields.find((each) => each.path === path);
    expect(field('C101', 'fit.value')).toMatchObject({
      written: '2.2 µF',
      unit: 'F',
      lower: '1.8 µF',
      higher: '2.7 µF',
    });
    // An electrolytic is made in steps of six to the decade.
    expect(field('C103', 'fit.value')).toMatchObject({ written: '22 µF', lower: '15 µF', higher: '33 µF' });
    expect(field('C102', 'pulled.leakage')).toMatchObject({ written: '1.5 MΩ', value: 1.5e6, unit: 'Ω' });
    expect(field('C101', 'fit.build')).toMatchObject({ written: 'film', value: null });
    expect(field('Q101/Q102', 'fit.type')).toMatchObject({ written: 'HN-D', choices: ['HN-A', 'HN-B', 'HN-D'] });
    // Two diodes in a string, and a place that is only looked at.
    expect(rowOf(view, 'D103').fields.map(({ path }) => path)).toEqual(['why']);
    expect(field('R111', 'fit.value')).toMatchObject({ written: null, value: 470, lower: '430 Ω', higher: '510 Ω' });
  });

  it('reads a current for the leakage and an ESR with its frequency', async () => {
    const odd = jobText.replace('leakage: 6 MΩ, esr: 6 Ω', 'leakage: 2 µA, esr: { value: 6 Ω, at: 100 kHz }');
    const { fields } = rowOf(viewOf(await createCompute().open(demo(1, odd))), 'C101');
    expect(fields.find(({ path }) => path === 'pulled.leakage')).toMatchObject({ value: 2e-6, unit: 'A' });
    expect(fields.find(({ path }) => path === 'pulled.esr.value')).toMatchObject({ written: '6 Ω', value: 6 });
  });

  it('offers the positions that the job does not speak of, as new parts that can be fitted', async () => {
    const keys = view.addable.map(({ key }) => key);
    expect(keys).toContain('R101/R102');
    // Of the pair only R111 stands in the job.
    expect(keys).toContain('R112');
    expect(keys.filter((key) => view.rows.some((row) => row.key === key))).toEqual([]);
    for (const { key, entry } of view.addable) {
      const edited = await compute.edit({
        revision: 1,
        job: { path: 'job', text: jobText },
        edit: { kind: 'add', position: key, entry },
      });
      expect(edited).toMatchObject({ ok: true });
      if (edited.ok) expect(() => demoJob(edited.text)).not.toThrow();
    }
  });

  it('is the same whether it comes fresh or after another', async () => {
    const other = createCompute();
    await other.open(demo(1, legsOf('47 µF')));
    const after = await other.open(demo(2));
    expect(after).toEqual({ revision: 2, ok: true, view });
  });

  it('shows a board without a job', async () => {
    const alone = viewOf(await createCompute().open(boardAlone(1)));
    expect(alone).toMatchObject({ rows: [], addable: [], head: null });
    expect(alone.states.map(({ state }) => state)).toEqual(['drawn']);
  });

  it('says what is wrong with a text, and keeps the last good one to move', async () => {
    const refused = await compute.open(demo(7, jobText.replace('2.2 µF', '2,2 µF')));
    expect(refused).toMatchObject({ revision: 7, ok: false, diagnostics: [{ code: 'comma-decimal' }] });
    expect((await compute.drag({ revision: 8, refs: ['C103'], value: 30e-6 })).live).not.toBeNull();
  });
});

function fail(what: string): never {
  throw new Error(`no ${what}`);
}
