/// <reference lib="dom" />
import { existsSync } from 'node:fs';
import { mkdtemp, realpath, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Browser, type BrowserContextOptions, type Page } from 'playwright-core';
import { openBench, type Bench } from '../../src/server/index.ts';

const places = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
const executable = process.env.CHROMIUM ?? places.find((place) => existsSync(place));

/** Why the browser tests cannot run here; null where they can. */
export const noBrowser: string | null =
  executable === undefined ? `no Chromium at ${places.join(', ')} or in CHROMIUM: apt-get install -y chromium` : null;

/** A real browser before a real server on a new folder with the demo files. */
export interface BrowserBench {
  readonly bench: Bench;
  readonly browser: Browser;
  /** A page of its own, as a new visitor sees it; `problems` gathers what its console and its network complain of. */
  visit(options?: BrowserContextOptions): Promise<{ page: Page; problems: string[] }>;
  close(): Promise<void>;
}

export async function browserBench(): Promise<BrowserBench> {
  const folder = await realpath(await mkdtemp(join(tmpdir(), 'curvewright-browser-')));
  const opened = await openBench({
    folder,
    port: 0,
    tell: (line) => {
      console.log(line);
    },
  });
  if (!opened.ok) throw new Error(opened.message);
  const bench = opened.value;
  const browser = await chromium.launch({
    executablePath: executable ?? '',
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
  return {
    bench,
    browser,
    async visit(options = {}) {
      const context = await browser.newContext({ viewport: { width: 1440, height: 1000 }, ...options });
      const page = await context.newPage();
      const problems: string[] = [];
      const own = new URL(bench.address).origin;
      page.on('console', (message) => {
        if (message.type() === 'error' || message.type() === 'warning') problems.push(message.text());
      });
      page.on('pageerror', (error) => problems.push(error.message));
      page.on('request', (request) => {
        const url = request.url();
        if (!url.startsWith(own) && !/^(data|blob):/.test(url)) problems.push(`asks for ${url}`);
      });
      await page.goto(bench.address);
      return { page, problems };
    },
    async close() {
      await browser.close();
      await bench.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

/** Until the verdict of the page's present text has come. */
export async function settled(page: Page): Promise<void> {
  await page
    .getByText(/\d+ (to look at|outside the limits|figures inside)/)
    .first()
    .waitFor({ timeout: 60_000 });
  await page.waitForFunction(() => document.querySelector('.is-old') === null, undefined, { timeout: 60_000 });
}
