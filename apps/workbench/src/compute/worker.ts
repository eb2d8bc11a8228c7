import { expose, transfer } from 'comlink';
import type { Compute } from '../contract/compute.ts';
import { createCompute } from './compute.ts';

const compute = createCompute();

const worker: Compute = {
  ...compute,
  // Curves under the hand are handed over, not copied.
  async drag(request) {
    const dragged = await compute.drag(request);
    return transfer(dragged, dragged.live?.deviationDb.map(({ buffer }) => buffer) ?? []);
  },
};

expose(worker);
