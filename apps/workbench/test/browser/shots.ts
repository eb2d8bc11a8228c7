import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { browserBench, noBrowser, settled } from './bench-browser.ts';

interface View {
  readonly name: string;
  reach(page: Page): Promise<void>;
}

const views: readonly View[] = [
  { name: 'sheet', reach: settled },
  {
    name: 'row-in-hand',
    async reach(page) {
      await page.getByRole('button', { name: 'C103', exact: true }).click();
      await page.getByRole('textbox', { name: /Fitted, value, C103/ }).waitFor();
    },
  },
  {
    name: 'list',
    async reach(page) {
      await page.getByRole('link', { name: 'Jobs and boards' }).click();
      await page.getByRole('heading', { name: 'Boards', exact: true }).waitFor();
    },
  },
  {
    name: 'text',
    async reach(page) {
      await page
        .getByRole('link', { name: /LK 417, pops/ })
        .first()
        .click();
      await page.getByRole('link', { name: 'Text', exact: true }).click();
      await page.locator('.cm-content').first().waitFor();
    },
  },
  {
    name: 'ear',
    async reach(page) {
      await page.getByRole('link', { name: 'By ear', exact: true }).click();
      await page.getByLabel('A sound file of yours').waitFor();
    },
  },
  {
    name: 'lesson',
    async reach(page) {
      await page.getByRole('link', { name: 'Lessons', exact: true }).click();
      await page.getByRole('link', { name: 'One capacitor, two jobs' }).click();
      await page.getByRole('button', { name: 'Show the answer' }).click();
      await page.getByRole('combobox').waitFor();
    },
  },
];

/** ms until figures and verdicts that come late have come. */
const rest = 6000;

/** A picture of every view at 1440 and 360 px, light and dark, into `folder`; the names of the files. */
export async function takeShots(folder: string): Promise<readonly string[]> {
  if (noBrowser !== null) throw new Error(noBrowser);
  await mkdir(folder, { recursive: true });
  const taken: string[] = [];
  const at = await browserBench();
  try {
    for (const colorScheme of ['light', 'dark'] as const) {
      for (const width of [1440, 360]) {
        const { page } = await at.visit({ colorScheme, viewport: { width, height: 1000 } });
        for (const view of views) {
          await view.reach(page);
          await page.waitForTimeout(rest);
          const path = join(folder, `${view.name}-${width}-${colorScheme}.png`);
          await page.screenshot({ path, fullPage: true });
          taken.push(path);
        }
        await page.context().close();
      }
    }
  } finally {
    await at.close();
  }
  return taken;
}
