import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { browserBench, noBrowser, settled, type BrowserBench } from './bench-browser.ts';

if (noBrowser !== null) console.log(`browser tests skipped: ${noBrowser}`);

describe.skipIf(noBrowser !== null)('the main job in a real browser', { timeout: 90_000 }, () => {
  let at: BrowserBench;
  beforeAll(async () => {
    at = await browserBench();
  }, 120_000);
  afterAll(() => at.close());

  const jobPath = (): string => join(at.bench.folder, 'jobs/lk417.job.yaml');
  const jobText = (): Promise<string> => readFile(jobPath(), 'utf8');
  const comments = (text: string): string[] => text.match(/#.*$/gm) ?? [];

  it('opens the demo job and asks for nothing outside', async () => {
    const { page, problems } = await at.visit();
    await page.getByRole('heading', { name: /LK 417/ }).waitFor();
    await settled(page);
    expect(await page.locator('tr.position').count()).toBeGreaterThan(8);
    expect(problems).toEqual([]);
    await page.context().close();
  });

  it('changes a value: verdict and numbers move, the file is written, its comments stay', async () => {
    const before = await jobText();
    const { page, problems } = await at.visit();
    await settled(page);
    const bass = page.getByRole('row', { name: /^20 Hz/ }).first();
    const wasBass = await bass.innerText();
    await page.getByRole('button', { name: 'C103', exact: true }).click();
    const value = page.getByRole('textbox', { name: /Fitted, value, C103/ });
    await value.fill('47 µF');
    await value.press('Enter');
    await page.waitForFunction(
      (was) =>
        [...document.querySelectorAll('tr')].some((row) => row.innerText.startsWith('20 Hz') && row.innerText !== was),
      wasBass,
    );
    await settled(page);
    await expect.poll(async () => jobText(), { timeout: 5000 }).toMatch(/C103:[\s\S]*?value: 47 µF/);
    expect(comments(await jobText())).toEqual(comments(before));
    await page.keyboard.press('Escape');
    await page.keyboard.press('Control+z');
    await expect.poll(async () => jobText(), { timeout: 5000 }).toBe(before);
    expect(problems).toEqual([]);
    await page.context().close();
  });

  it('says what is wrong with a value where it stands, and keeps the file', async () => {
    const before = await jobText();
    const { page } = await at.visit();
    await page.getByRole('button', { name: 'C103', exact: true }).click();
    const value = page.getByRole('textbox', { name: /Fitted, value, C103/ });
    await value.fill('a lot');
    await value.press('Enter');
    await page.getByRole('alert').filter({ hasText: 'a lot' }).waitFor({ timeout: 10_000 });
    expect(await jobText()).toBe(before);
    await page.context().close();
  });

  it('is done with the keyboard alone', async () => {
    const before = await jobText();
    const { page } = await at.visit();
    await settled(page);
    const reach = async (name: RegExp): Promise<void> => {
      for (let n = 0; n < 120; n++) {
        await page.keyboard.press('Tab');
        const focused = await page.evaluate(() => {
          const element = document.activeElement;
          return element?.getAttribute('aria-label') ?? element?.textContent ?? '';
        });
        if (name.test(focused)) return;
      }
      throw new Error(`no Tab leads to ${String(name)}`);
    };
    await reach(/^C107 C108$/);
    const outline = await page.evaluate(() => getComputedStyle(document.activeElement!).outlineStyle);
    expect(outline).not.toBe('none');
    await page.keyboard.press('Enter');
    await reach(/Fitted, value, C107 C108/);
    await page.keyboard.press('ArrowUp');
    await expect.poll(async () => jobText(), { timeout: 8000 }).not.toBe(before);
    await page.keyboard.press('Escape');
    await page.keyboard.press('Control+z');
    await expect.poll(async () => jobText(), { timeout: 8000 }).toBe(before);
    await page.context().close();
  });

  it('shows what another program wrote, and a conflict side by side', async () => {
    const before = await jobText();
    const [first, second] = [await at.visit(), await at.visit()];
    await settled(first.page);
    await settled(second.page);
    await writeFile(jobPath(), before.replace('intermittent pops', 'pops now and then'));
    for (const { page } of [first, second])
      await page.getByText('pops now and then').first().waitFor({ timeout: 10_000 });

    // Both pages change the same row; the first one's save is held up until the second's is on the disk.
    const change = async ({ page }: typeof first, value: string): Promise<void> => {
      await page.getByRole('button', { name: 'C115', exact: true }).click();
      const field = page.getByRole('textbox', { name: /Fitted, value, C115/ });
      await field.fill(value);
      await field.press('Enter');
    };
    const { page } = first;
    let release = (): void => undefined;
    const held = new Promise<void>((resolve) => (release = resolve));
    await page.route('**/api/file', async (route) => {
      if (route.request().method() === 'PUT') await held;
      await route.continue();
    });
    await change(first, '330 µF');
    await change(second, '470 µF');
    await expect.poll(async () => jobText(), { timeout: 10_000 }).toMatch(/C115:[\s\S]*?value: 470 µF/);
    release();
    await page.getByRole('button', { name: 'Keep mine', exact: true }).waitFor({ timeout: 15_000 });
    expect(await jobText()).toMatch(/C115:[\s\S]*?value: 470 µF/);
    await page.getByRole('button', { name: 'Take theirs', exact: true }).click();
    await settled(page);
    await writeFile(jobPath(), before);
    await first.page.context().close();
    await second.page.context().close();
  });
});
