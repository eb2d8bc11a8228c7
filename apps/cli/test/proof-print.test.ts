/// <reference lib="dom" />
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { AxeResults } from 'axe-core';
import { chromium, type Browser, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { printPdf } from '../src/print-pdf.ts';
import { chromiumPath } from './proof-shots.ts';
import { repositoryPath, runLong } from './recording-desk.ts';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Pages of a PDF, by its page objects: ISO 32000-1, 7.7.3.3. */
const pagesOf = (pdf: Uint8Array): number =>
  [
    ...Buffer.from(pdf)
      .toString('latin1')
      .matchAll(/\/Type\s*\/Page\b/g),
  ].length;

describe.skipIf(chromiumPath === undefined)('the demo sheets in a browser', { timeout: 90_000 }, () => {
  const home = mkdtempSync(join(tmpdir(), 'curvewright-print-'));
  const job = join(home, 'jobs/lk417.job.yaml');
  const sheet = join(home, 'jobs/lk417.proof.html');
  let browser: Browser;
  beforeAll(async () => {
    cpSync(repositoryPath('seeds'), home, { recursive: true });
    const { status, complaint } = await runLong('proof', job, '--rework', '--pdf');
    if (status !== 0) throw new Error(complaint);
    browser = await chromium.launch({ executablePath: chromiumPath ?? '', args: ['--no-sandbox', '--disable-gpu'] });
  }, 180_000);
  afterAll(async () => {
    await browser.close();
    rmSync(home, { recursive: true, force: true });
  });

  /** `bypassCSP` lets the checker's script into a page that allows none. */
  async function open(file: string, width: number): Promise<{ page: Page; problems: string[] }> {
    const context = await browser.newContext({ viewport: { width, height: 900 }, bypassCSP: true });
    const page = await context.newPage();
    const problems: string[] = [];
    page.on('console', (message) => problems.push(message.text()));
    page.on('pageerror', ({ message }) => problems.push(message));
    page.on('request', (request) => {
      if (request.url() !== pathToFileURL(file).href) problems.push(`asks for ${request.url()}`);
    });
    await page.goto(pathToFileURL(file).href);
    return { page, problems };
  }

  it.each([
    ['lk417.proof.html', 1200],
    ['lk417.proof.html', 360],
    ['lk417.rework.html', 1200],
    ['lk417.rework.html', 360],
  ])('%s at %i px holds WCAG 2.2 AA, keeps inside the width and asks for nothing', async (name, width) => {
    const { page, problems } = await open(join(home, 'jobs', name), width);
    await page.evaluate(axe);
    const found = await page.evaluate(() => {
      const { axe: checker } = window as unknown as { axe: { run(options: object): Promise<AxeResults> } };
      return checker.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] });
    });
    expect(
      found.violations.flatMap(({ id, nodes }) => nodes.map(({ target }) => `${id}: ${target.join(' ')}`)),
    ).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);
    expect(problems).toEqual([]);
    await page.context().close();
  });

  it.each(['A4', 'Letter'])('prints two pages on %s', async (format) => {
    const { page } = await open(sheet, 1200);
    expect(pagesOf(await page.pdf({ format, preferCSSPageSize: false }))).toBe(2);
    await page.context().close();
  });

  it('is printed to a PDF beside the sheet, of as many pages', () => {
    expect(pagesOf(readFileSync(join(home, 'jobs/lk417.proof.pdf')))).toBe(2);
  });

  it('says what to do where there is no browser to print by', async () => {
    const before = process.env.CHROMIUM;
    process.env.CHROMIUM = join(home, 'no-such-browser');
    try {
      expect(await printPdf(sheet, join(home, 'none.pdf'))).toMatch(
        /^is not written: .*no-such-browser cannot be started/,
      );
      expect(existsSync(join(home, 'none.pdf'))).toBe(false);
    } finally {
      if (before === undefined) delete process.env.CHROMIUM;
      else process.env.CHROMIUM = before;
    }
  });

  it('repeats its head on every page of a longer job', async () => {
    const long = join(home, 'jobs/long.html');
    const row = /<tr><th scope="row" class="refs">C101<\/th>[^]*?<\/tr>\n/.exec(readFileSync(sheet, 'utf8'))?.[0] ?? '';
    writeFileSync(long, readFileSync(sheet, 'utf8').replace(row, row.repeat(120)));
    const { page } = await open(long, 1200);
    const pages = pagesOf(await page.pdf({ format: 'A4', preferCSSPageSize: false }));
    expect(pages).toBeGreaterThan(4);
    // Chromium repeats the boxes of a table group with the class that the style sheet gives it in print.
    await page.emulateMedia({ media: 'print' });
    const display = await page.evaluate(() => {
      const shown = (selector: string): string =>
        getComputedStyle(document.querySelector(selector) ?? document.body).display;
      return [shown('body'), shown('.running'), shown('main')];
    });
    expect(display).toEqual(['table', 'table-header-group', 'table-row-group']);
    await page.context().close();
  });
});
