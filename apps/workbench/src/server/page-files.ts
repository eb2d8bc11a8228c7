import { readdir, readFile } from 'node:fs/promises';
import { extname, join, relative, sep } from 'node:path';

/** The page by address (`/`, `/assets/…`), held in memory: an address that is not among them leads nowhere. */
export type PageFiles = ReadonlyMap<string, PageFile>;

export interface PageFile {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly type: string;
}

const TYPES: Readonly<Record<string, string>> = {
  '.css': 'text/css; charset=utf-8',
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.wasm': 'application/wasm',
  '.woff': 'font/woff',
  '.woff2': 'font/woff2',
};

export async function readPage(folder: string): Promise<PageFiles> {
  const page = new Map<string, PageFile>();
  for (const entry of await readdir(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const file = join(entry.parentPath, entry.name);
    const way = `/${relative(folder, file).split(sep).join('/')}`;
    const type = TYPES[extname(file)] ?? 'application/octet-stream';
    page.set(way === '/index.html' ? '/' : way, { bytes: new Uint8Array(await readFile(file)), type });
  }
  return page;
}
