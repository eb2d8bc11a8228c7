import { mkdir, mkdtemp, realpath, rm, writeFile } from 'node:fs/promises';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { openStore } from '../../src/server/file-store.ts';
import type { PageFiles } from '../../src/server/page-files.ts';
import { serve } from '../../src/server/serve.ts';

/** A bench on a folder of its own, served for real. */
export interface RunningBench {
  readonly folder: string;
  readonly port: number;
  readonly token: string;
  ask(path: string, how?: Ask): Promise<Told>;
  /** Saves, and answers what came. */
  save(path: string, text: string, base: string | null, page?: string): Promise<Told>;
  /** Writes a file as another program does. */
  put(path: string, text: string | Uint8Array): Promise<void>;
  close(): Promise<void>;
}

export interface Ask {
  readonly method?: string;
  /** Over those that a page of this bench sends; undefined leaves one out. */
  readonly headers?: Readonly<Record<string, string | undefined>>;
  readonly body?: string;
}

export interface Told {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  readonly text: string;
  readonly json: Record<string, unknown>;
}

const html = {
  bytes: new TextEncoder().encode('<!doctype html><title>page</title>'),
  type: 'text/html; charset=utf-8',
};
const script = { bytes: new TextEncoder().encode('export {};'), type: 'text/javascript; charset=utf-8' };
const page: PageFiles = new Map([
  ['/', html],
  ['/assets/index-a1.js', script],
]);

export async function tempFolder(): Promise<string> {
  return realpath(await mkdtemp(join(tmpdir(), 'curvewright-bench-')));
}

export async function runBench(files: Readonly<Record<string, string>> = {}): Promise<RunningBench> {
  const folder = await tempFolder();
  const put = async (path: string, text: string | Uint8Array): Promise<void> => {
    await mkdir(dirname(join(folder, path)), { recursive: true });
    await writeFile(join(folder, path), text);
  };
  for (const [path, text] of Object.entries(files)) await put(path, text);
  const serving = await serve(await openStore(folder, folder), page, 0);
  if (!serving.ok) throw new Error(serving.message);
  const { address } = serving.value;
  const [, port = '', token = ''] = /^http:\/\/127\.0\.0\.1:(\d+)\/#(.+)$/.exec(address) ?? [];
  const ask = (path: string, { method = 'GET', headers, body }: Ask = {}): Promise<Told> =>
    askRaw(Number(port), path, method, { 'x-bench-token': token, ...headers }, body);
  return {
    folder,
    port: Number(port),
    token,
    ask,
    save: (path, text, base, pageName) =>
      ask('/api/file', {
        method: 'PUT',
        headers: { 'x-bench-page': pageName },
        body: JSON.stringify({ path, text, base }),
      }),
    put,
    close: async () => {
      await serving.value.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

/** By the path as it stands: nothing is tidied up on the way, as a browser's `fetch` would. */
export function askRaw(
  port: number,
  path: string,
  method: string,
  headers: Readonly<Record<string, string | undefined>>,
  body?: string,
): Promise<Told> {
  const given = Object.fromEntries(Object.entries(headers).filter(([, value]) => value !== undefined));
  return new Promise((resolve, reject) => {
    const asked = request({ host: '127.0.0.1', port, path, method, headers: given, agent: false }, (answer) => {
      let text = '';
      answer.setEncoding('utf8');
      answer.on('data', (part: string) => (text += part));
      answer.on('error', reject);
      answer.on('end', () => {
        const isJson = answer.headers['content-type']?.startsWith('application/json') === true;
        const json = isJson ? (JSON.parse(text) as Record<string, unknown>) : {};
        resolve({ status: answer.statusCode ?? 0, headers: answer.headers, text, json });
      });
    });
    asked.on('error', reject);
    asked.end(body);
  });
}
