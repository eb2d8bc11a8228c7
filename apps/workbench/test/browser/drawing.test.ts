import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { violations } from './axe.ts';
import { browserBench, noBrowser, type BrowserBench } from './bench-browser.ts';

/** For what a busy machine computes. */
const patience = { timeout: 30_000 };

const part = (page: Page, ref: string): Locator => page.locator(`.stage-plate g[data-ref="${ref}"]`);
/** Where a hand aims: a part's group reaches from its symbol to its texts. */
const body = (page: Page, ref: string): Locator => part(page, ref).locator('rect').first();
/** What Fig. 1 shows of a value under the hand; empty at rest. */
const movingLine = (page: Page): Promise<string> =>
  page
    .locator('.live-figure')
    .evaluate((figure) => figure.querySelector('.moving-lines path')?.getAttribute('d') ?? '');

async function draw(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Draw the circuit' }).click();
  await part(page, 'Q101').waitFor(patience);
}

describe.skipIf(noBrowser !== null)('the stage drawing', { timeout: 240_000 }, () => {
  let at: BrowserBench;
  beforeAll(async () => {
    at = await browserBench();
  }, 120_000);
  afterAll(() => at.close());

  it('a part chosen in it opens its row, and a row in hand is marked in it', async () => {
    const { page, problems } = await at.visit();
    await page.locator('tr.position').first().waitFor(patience);
    await draw(page);
    await body(page, 'C103').click();
    await page.getByRole('textbox', { name: /Fitted, value, C103/ }).waitFor(patience);
    expect(await part(page, 'C103').getAttribute('aria-pressed')).toBe('true');
    await page.getByRole('button', { name: 'Q101 Q102', exact: true }).click();
    await expect.poll(() => part(page, 'Q101').getAttribute('aria-pressed'), patience).toBe('true');
    expect(await part(page, 'C103').getAttribute('aria-pressed')).toBe('false');
    expect(problems).toEqual([]);
    await page.context().close();
  });

  it('is gone through and asked with the keyboard alone; the curve answers', async () => {
    const { page } = await at.visit();
    await page.locator('tr.position').first().waitFor(patience);
    await draw(page);
    const first = page.locator('.stage-plate g[tabindex="0"]');
    expect(await first.count()).toBe(1);
    const startedAt = await first.getAttribute('data-ref');
    await first.focus();
    await page.keyboard.press('ArrowRight');
    const next = await page.evaluate(() => (document.activeElement as SVGElement | null)?.dataset.ref);
    expect(next).not.toBe(startedAt);
    expect(await page.evaluate(() => getComputedStyle(document.activeElement!).outlineStyle)).not.toBe('none');
    await part(page, 'R101').focus();
    await page.keyboard.press('Enter');
    await expect.poll(() => part(page, 'R101').getAttribute('aria-pressed'), patience).toBe('true');
    await part(page, 'C103').focus();
    await page.keyboard.press('Enter');
    const more = page.getByRole('button', { name: 'Show C103 with 10 % more in Fig. 1' });
    await page.locator('.live-figure.is-live').waitFor(patience);
    expect(await movingLine(page)).toBe('');
    await more.focus();
    await page.keyboard.press('Enter');
    await page.getByText('The moving line of Fig. 1 is that of 10 % more at C103.').waitFor(patience);
    await expect.poll(() => movingLine(page), patience).not.toBe('');
    await page.keyboard.press('Enter');
    await expect.poll(() => movingLine(page), patience).toBe('');
    await page.context().close();
  });

  it('shows voltages, currents, shares and the circuits of bias and signal', async () => {
    const { page } = await at.visit();
    await page.locator('tr.position').first().waitFor(patience);
    await draw(page);
    const plate = page.locator('.stage-plate');
    const text = (): Promise<string> => plate.evaluate((each) => each.textContent);
    expect(await text()).toMatch(/\d V/);
    await page.getByRole('checkbox', { name: 'currents' }).check();
    await expect.poll(text, patience).toMatch(/[→←↓↑−]? ?\d+(\.\d+)? [µm]A/);
    await page.getByRole('checkbox', { name: 'bias voltages' }).uncheck();
    await page.getByLabel('Shaded by share in').selectOption('bass');
    await expect.poll(text, patience).toContain('40 % and more');
    expect(await text()).toContain('share in the deviation at 20 Hz');
    await page.getByLabel('Circuit').selectOption('dc');
    await expect.poll(text, patience).toContain('capacitors are open');
    await page.getByLabel('Circuit').selectOption('ac');
    await expect.poll(text, patience).toContain('reactances at 1 kHz');
    await page.getByLabel('at, Hz').fill('50');
    await page.getByLabel('at, Hz').press('Tab');
    await expect.poll(text, patience).toContain('reactances at 50 Hz');
    await page.getByLabel('Channel').selectOption('right');
    await part(page, 'Q102').waitFor(patience);
    await page.getByText('The drawing in words').click();
    await page.getByText(/^Signal path: in –/).waitFor();
    await page.context().close();
  });

  for (const colorScheme of ['light', 'dark'] as const) {
    for (const width of [1440, 360]) {
      it(`${colorScheme}, ${width} px: holds WCAG 2.2 AA and keeps inside the width`, async () => {
        const { page } = await at.visit({ colorScheme, viewport: { width, height: 900 }, bypassCSP: true });
        await page.locator('tr.position').first().waitFor(patience);
        await draw(page);
        await body(page, 'C103').click();
        await page.getByLabel('Shaded by share in').selectOption('bass');
        await expect
          .poll(() => page.locator('.stage-plate').evaluate((each) => each.textContent), patience)
          .toContain('40 % and more');
        expect(await violations(page)).toEqual([]);
        expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);
        const folder = process.env.BENCH_SHOTS;
        if (folder !== undefined)
          await page.screenshot({ path: `${folder}/drawing-${width}-${colorScheme}.png`, fullPage: true });
        await page.context().close();
      });
    }
  }
});
