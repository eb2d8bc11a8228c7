import { once } from 'node:events';
import type { AddressInfo } from 'node:net';
import { createAdaptorServer } from '@hono/node-server';
import { randomToken } from './access.ts';
import { codeOf, refused, type Answer } from './answer.ts';
import type { FileStore } from './file-store.ts';
import type { PageFiles } from './page-files.ts';
import { benchApp } from './routes.ts';
import { watchFolders } from './watch.ts';

export interface Serving {
  /** With the token, for the person's browser alone. */
  readonly address: string;
  /** Ends once nothing is being saved. */
  close(): Promise<void>;
}

/** Serves a bench on this machine alone; port 0 takes any that is free. */
export async function serve(store: FileStore, page: PageFiles, port: number): Promise<Answer<Serving>> {
  const token = randomToken();
  let answering = port;
  const app = benchApp({ store, page, token, port: () => answering });
  const server = createAdaptorServer({ fetch: app.fetch });
  server.listen(port, '127.0.0.1');
  try {
    await once(server, 'listening');
  } catch (trouble) {
    return portTrouble(port, trouble);
  }
  answering = (server.address() as AddressInfo).port;
  const endWatch = watchFolders(() => store.look());
  return {
    ok: true,
    value: {
      address: `http://127.0.0.1:${answering}/#${token}`,
      close: async () => {
        endWatch();
        const closed = once(server, 'close');
        server.close();
        await store.rest();
        // Streams of events would hold it open for ever.
        if ('closeAllConnections' in server) server.closeAllConnections();
        await closed;
      },
    },
  };
}

function portTrouble(port: number, trouble: unknown): Answer<never> {
  switch (codeOf(trouble)) {
    case 'EADDRINUSE':
      return refused(500, `port ${port} is in use; name another with --port, or leave it out to take a free one`);
    case 'EACCES':
      return refused(403, `port ${port} is not yours to take; name one above 1023 with --port, or leave it out`);
    default:
      throw trouble;
  }
}
