import { wrap } from 'comlink';
import type { Teaching, TeachKind, TeachOutcome, TeachRequest } from '../../contract/teach.ts';

let started: Teaching | null = null;

/** The worker that lessons and listening share, started when one of them is first shown. */
export function teaching(): Teaching {
  started ??= start();
  return started;
}

function start(): Teaching {
  const remote = wrap<Teaching>(
    new Worker(new URL('../../compute/teaching-worker.ts', import.meta.url), { type: 'module' }),
  );
  return {
    // A generic remote function loses its type parameter on the way.
    teach: <K extends TeachKind>(request: TeachRequest<K>) => remote.teach(request) as Promise<TeachOutcome<K>>,
    hear: (request) => remote.hear(request),
  };
}
