import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { violations } from './axe.ts';
import { browserBench, noBrowser, type BrowserBench } from './bench-browser.ts';

/** For what a busy machine computes. */
const patience = { timeout: 40_000 };

async function open(page: Page, row: string): Promise<void> {
  await page.getByRole('button', { name: row, exact: true }).click();
  await page.getByRole('region', { name: 'From the drawer' }).waitFor(patience);
}

async function shoot(page: Page, name: string): Promise<void> {
  const folder = process.env.BENCH_SHOTS;
  if (folder !== undefined) await page.screenshot({ path: `${folder}/${name}.png`, fullPage: true });
}

describe.skipIf(noBrowser !== null)('leads and drawer beside a row', { timeout: 240_000 }, () => {
  let at: BrowserBench;
  beforeAll(async () => {
    at = await browserBench();
  }, 120_000);
  afterAll(() => at.close());

  it('draws case, holes and turn, the string of diodes, and says where plus goes', async () => {
    const { page, problems } = await at.visit({ bypassCSP: true });
    await page.locator('tr.position').first().waitFor(patience);
    await open(page, 'Q101 Q102');
    const leads = page.getByRole('region', { name: 'How it goes in' });
    await leads.locator('li', { hasText: 'HN-D goes in turned by 180°' }).first().waitFor(patience);
    await leads.getByRole('img', { name: /Leads of Q101, seen from the component side/ }).waitFor();
    expect(await violations(page)).toEqual([]);
    await shoot(page, 'leads');
    await open(page, 'D103');
    await leads.getByRole('img', { name: 'String of diodes at D103' }).waitFor(patience);
    await open(page, 'C103');
    await leads.getByText('C103: plus goes to leg, minus to gnd').waitFor(patience);
    expect(problems).toEqual([]);
    await page.context().close();
  });

  it('tries a part with a key, shows its curve before anything is written, then writes it', async () => {
    const jobText = (): Promise<string> => readFile(join(at.bench.folder, 'jobs/lk417.job.yaml'), 'utf8');
    const before = await jobText();
    const { page, problems } = await at.visit({ bypassCSP: true });
    await page.locator('tr.position').first().waitFor(patience);
    await open(page, 'C103');
    await page.getByRole('button', { name: 'Look in the drawer' }).click();
    const asItIs = page.getByRole('radio', { name: /^as the job has it/ });
    await asItIs.waitFor(patience);
    await page.locator('.live-figure.is-live').waitFor(patience);
    const moving = page.locator('.moving-lines path');
    expect(await moving.count()).toBe(0);
    await asItIs.focus();
    await page.keyboard.press('ArrowDown');
    await page.getByText('The moving line of Fig. 1 is that of CE-33-25.').waitFor(patience);
    await moving.first().waitFor({ ...patience, state: 'attached' });
    expect(await jobText()).toBe(before);
    expect(await violations(page)).toEqual([]);
    await shoot(page, 'drawer');
    await page.keyboard.press('Enter');
    await expect.poll(jobText, patience).toMatch(/C103:[^]*value: 33 µF[^]*C104:[^]*value: 33 µF/);
    expect((await jobText()).match(/#.*$/gm)).toEqual(before.match(/#.*$/gm));
    await page.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect.poll(jobText, patience).toBe(before);
    expect(problems).toEqual([]);
    await page.context().close();
  });
});
