import { proxy, wrap } from 'comlink';
import type { Views } from '../../contract/views.ts';

let started: Views | null = null;

/** The worker that drawing, leads and choice share, started when one of them is first shown. */
export function viewWorker(): Views {
  started ??= start();
  return started;
}

function start(): Views {
  const remote = wrap<Views>(new Worker(new URL('../../compute/views-worker.ts', import.meta.url), { type: 'module' }));
  return {
    draw: (request) => remote.draw(request),
    fit: (request) => remote.fit(request),
    choose: (request, progress) => remote.choose(request, proxy(progress)),
    tryOut: (request) => remote.tryOut(request),
  };
}
