import { mkdtemp, readdir, rename, rm, stat, utimes } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { codeOf } from './answer.ts';

const bench = fileURLToPath(new URL('../../', import.meta.url));
const fromSource = import.meta.url.endsWith('.ts');

/** What the page is made of: its rooms here, and the packages that it computes with. */
const MADE_OF = ['src/page', 'src/compute', 'src/contract', 'vite.config.ts', 'package.json'];
const packages = join(bench, '../../packages');

/**
 * The folder of the built page: installed, it lies there; from source, it is built when it is missing or older than what it is made of.
 * @param tell says that building, which takes a while, has begun
 */
export async function builtPage(tell: (words: string) => void): Promise<string> {
  const page = join(bench, 'dist/page');
  if (fromSource && (await builtAt(page)) < (await newestOf(await sources()))) {
    tell('building the page once …');
    await build(page);
  }
  return page;
}

async function sources(): Promise<readonly string[]> {
  const names = await readdir(packages);
  return [...MADE_OF.map((each) => join(bench, each)), ...names.map((name) => join(packages, name, 'src'))];
}

/** ms; 0 where it is not there. */
async function builtAt(page: string): Promise<number> {
  try {
    return (await stat(join(page, 'index.html'))).mtimeMs;
  } catch (trouble) {
    if (codeOf(trouble) === 'ENOENT') return 0;
    throw trouble;
  }
}

/** ms of the last change among files and folders; a folder changes when something in it comes or goes. */
async function newestOf(places: readonly string[]): Promise<number> {
  let newest = 0;
  for (const place of places) {
    const there = await stat(place);
    newest = Math.max(newest, there.mtimeMs);
    if (!there.isDirectory()) continue;
    newest = Math.max(newest, await newestOf((await readdir(place)).map((name) => join(place, name))));
  }
  return newest;
}

/** Built aside and then put in place, so that another bench that starts meanwhile finds a whole page. */
async function build(page: string): Promise<void> {
  const vite = await import('vite');
  const begun = new Date();
  const aside = await mkdtemp(join(bench, 'node_modules/.page-'));
  try {
    const fresh = join(aside, 'fresh');
    await vite.build({
      configFile: join(bench, 'vite.config.ts'),
      logLevel: 'error',
      build: { outDir: fresh, emptyOutDir: false },
    });
    // What changed while it was built is newer than the page.
    await utimes(join(fresh, 'index.html'), begun, begun);
    await rename(page, join(aside, 'old')).catch(() => undefined);
    await rename(fresh, page);
  } finally {
    await rm(aside, { recursive: true });
  }
}
