import { Worker } from 'node:worker_threads';
import { proxy, wrap, type Remote } from 'comlink';
import nodeEndpoint from 'comlink/dist/esm/node-adapter.mjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Compute } from '../../src/contract/compute.ts';
import { boardAlone, demo, viewOf } from './demo.ts';

/** Node hands the loader of TypeScript on to no thread. */
function startThread(): Worker {
  const loader = import.meta.resolve('tsx/esm/api');
  const file = new URL('./thread.ts', import.meta.url).href;
  return new Worker(`import('${loader}').then(({ register }) => { register(); return import('${file}'); });`, {
    eval: true,
  });
}

describe('the worker file', () => {
  let thread: Worker;
  let compute: Remote<Compute>;

  beforeAll(() => {
    thread = startThread();
    compute = wrap<Compute>(nodeEndpoint(thread));
  });
  afterAll(() => thread.terminate());

  it('answers from its thread: sheet, moves, slow answers with progress', { timeout: 60_000 }, async () => {
    const view = viewOf(await compute.open(demo(1)));
    expect(view.curves[0]?.hz).toBeInstanceOf(Float64Array);
    const points = view.curves[0]?.hz.length;
    // Handed over twice: what is given away is not needed any more.
    for (const revision of [2, 3]) {
      const { live } = await compute.drag({ revision, refs: ['C103', 'C104'], value: revision * 1e-5 });
      expect(live?.deviationDb.map(({ length }) => length)).toEqual([points, points]);
    }
    const shares: number[] = [];
    const slow = await compute.slow(
      { kind: 'headroom', subject: boardAlone(4), state: null },
      proxy((_: number, share: number) => void shares.push(share)),
    );
    expect(slow).toMatchObject({ revision: 4, outcome: 'answered' });
    expect(shares.length).toBeGreaterThan(0);
  });
});
