import { parentPort } from 'node:worker_threads';
import nodeEndpoint from 'comlink/dist/esm/node-adapter.mjs';

/** Runs the real worker file in a thread of Node, whose port is put where a browser's worker has its own. */
if (parentPort === null) throw new Error('this file is started as a thread');
Object.assign(globalThis, nodeEndpoint(parentPort));
await import('../../src/compute/worker.ts');
