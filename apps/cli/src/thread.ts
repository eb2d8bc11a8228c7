import { Worker } from 'node:worker_threads';

/**
 * Starts a file of this folder as a thread: built, as it is; from source, behind the loader that the tool itself was started with, which
 * Node 20 does not hand on to threads.
 */
export function startThread(name: string, data: unknown): Worker {
  if (!import.meta.url.endsWith('.ts')) {
    return new Worker(new URL(`./${name}.js`, import.meta.url), { workerData: data });
  }
  const loader = import.meta.resolve('tsx/esm/api');
  const file = new URL(`./${name}.ts`, import.meta.url).href;
  const start = `import('${loader}').then(({ register }) => { register(); return import('${file}'); });`;
  return new Worker(start, { eval: true, workerData: data });
}
