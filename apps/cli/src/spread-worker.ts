import { parentPort, workerData } from 'node:worker_threads';
import { spreadRunner, type SpreadPlan } from '@curvewright/verify';
import type { Chunk } from './spread-workers.ts';

const runner = spreadRunner(workerData as SpreadPlan);

parentPort?.on('message', ({ from, boards }: Chunk) => {
  // The plan was solved once before it came here.
  if (runner === null) throw new Error('the board of the plan cannot be solved');
  const tally = runner.run(from, boards);
  parentPort?.postMessage(tally, [tally.rows.buffer as ArrayBuffer]);
});
parentPort?.postMessage('ready');
