import { Hono, type Context } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { streamSSE } from 'hono/streaming';
import type { Refusal } from '../contract/files.ts';
import { guardingHeaders, isToken, strangerTrouble } from './access.ts';
import type { Answer, Refused } from './answer.ts';
import type { FileStore } from './file-store.ts';
import { largest } from './file-text.ts';
import type { PageFiles } from './page-files.ts';
import { readSaveRequest } from './save-request.ts';

export interface BenchParts {
  readonly store: FileStore;
  readonly page: PageFiles;
  readonly token: string;
  /** The port that answers; known once it does. */
  readonly port: () => number;
}

/** Everything that the bench's server answers. */
export function benchApp({ store, page, token, port }: BenchParts): Hono {
  const app = new Hono();
  app.use(async (c, next) => {
    const trouble = strangerTrouble({ host: c.req.header('host'), origin: c.req.header('origin') }, port());
    if (trouble === null) await next();
    else c.res = refusal(c, 403, trouble);
    for (const [name, value] of Object.entries(guardingHeaders)) c.res.headers.set(name, value);
  });
  app.use('/api/*', async (c: Context, next) => {
    // A stream of events cannot carry a header of ours.
    const given = c.req.header('x-bench-token') ?? (c.req.path === '/api/events' ? c.req.query('token') : undefined);
    if (isToken(given, token)) return next();
    return refusal(c, 403, 'this page belongs to a bench that was opened before; open the address it prints now');
  });
  app.get('/api/files', async (c) => c.json(await store.list()));
  app.get('/api/file', async (c) => answered(c, await store.read(asked(c, 'path'))));
  app.put('/api/file', bodyLimit({ maxSize: largest, onError: tooLarge }), async (c) => {
    const request = readSaveRequest(await c.req.text());
    if (request === null) return refusal(c, 400, 'what came is no file to save; write path, text and base');
    const outcome = await store.save(request, c.req.header('x-bench-page') ?? null);
    if (!outcome.ok) return answered(c, outcome);
    return outcome.value.saved ? c.json(outcome.value.answer) : c.json(outcome.value.conflict, 409);
  });
  app.get('/api/history', async (c) => answered(c, await store.history(asked(c, 'path'))));
  app.get('/api/history/text', async (c) => answered(c, await store.keptText(asked(c, 'path'), asked(c, 'id'))));
  app.get('/api/events', (c: Context) => events(c, store));
  app.get('*', (c) => {
    const file = page.get(c.req.path);
    return file === undefined
      ? refusal(c, 404, 'nothing is kept under this address; open the one that the bench printed')
      : c.body(file.bytes, 200, { 'content-type': file.type });
  });
  app.notFound((c) => refusal(c, 404, 'the bench does nothing of the kind'));
  app.onError((trouble, c) => refusal(c, 500, `the bench stumbled: ${trouble.message}`));
  return app;
}

function events(c: Context, store: FileStore): Response {
  return streamSSE(c, async (stream) => {
    await new Promise<void>((end) => {
      const silence = store.listen(c.req.query('page') ?? null, (change) => {
        void stream.writeSSE({ data: JSON.stringify(change) });
      });
      stream.onAbort(() => {
        silence();
        end();
      });
      // The page learns that it is heard from now on.
      void stream.write(': listening\n\n');
    });
  });
}

function asked(c: Context, name: string): string {
  return c.req.query(name) ?? '';
}

function answered(c: Context, answer: Answer<object>): Response {
  return answer.ok ? c.json(answer.value) : refusal(c, answer.status, answer.message);
}

function refusal(c: Context, status: Refused['status'], message: string): Response {
  return c.json({ message } satisfies Refusal, status);
}

function tooLarge(c: Context): Response {
  return refusal(c, 413, 'the file is larger than 2 MB; split it');
}
