import { resolve } from 'node:path';
import { refused, type Answer } from './answer.ts';
import { openStore } from './file-store.ts';
import { copySeeds, readyFolder } from './first-start.ts';
import { builtPage } from './page-build.ts';
import { readPage, type PageFiles } from './page-files.ts';
import { serve, type Serving } from './serve.ts';

export interface BenchRequest {
  /** Made where it is missing; where it is empty, the demo boards, job and drawer are copied into it. */
  readonly folder: string;
  /** 0 takes any that is free. */
  readonly port: number;
  /** Says what takes a while before the bench is open. */
  readonly tell: (words: string) => void;
}

export interface Bench extends Serving {
  /** Absolute. */
  readonly folder: string;
  /** Files copied into the new folder; 0 where it had some. */
  readonly copied: number;
}

/** Opens the bench on a folder: serves page and files on 127.0.0.1 until it is closed. */
export async function openBench({ folder, port, tell }: BenchRequest): Promise<Answer<Bench>> {
  const ready = await readyFolder(folder);
  if (!ready.ok) return ready;
  const { root, empty } = ready.value;
  const store = await openStore(root, resolve(folder));
  const copied = empty ? await copySeeds(store) : { ok: true as const, value: 0 };
  if (!copied.ok) return copied;
  const page = await pageOf(tell);
  if (!page.ok) return page;
  const serving = await serve(store, page.value, port);
  if (!serving.ok) return serving;
  return { ok: true, value: { ...serving.value, folder: resolve(folder), copied: copied.value } };
}

async function pageOf(tell: (words: string) => void): Promise<Answer<PageFiles>> {
  try {
    return { ok: true, value: await readPage(await builtPage(tell)) };
  } catch (trouble) {
    const reason = trouble instanceof Error ? trouble.message : String(trouble);
    return refused(500, `the page could not be built: ${reason}`);
  }
}
