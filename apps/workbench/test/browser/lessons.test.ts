import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { lessonTitles, type CardPage, type Lesson } from '@curvewright/report';
import { lessonIds } from '@curvewright/verify';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createTeaching } from '../../src/compute/teach.ts';
import { seedBoard } from '../lessons/board-of.ts';
import { violations } from './axe.ts';
import { browserBench, noBrowser, type BrowserBench } from './bench-browser.ts';

/** Tab until the focus stands on something with this role and name; nothing but the keyboard is used. */
async function tabTo(page: Page, tag: string, name: RegExp): Promise<void> {
  for (let n = 0; n < 200; n++) {
    await page.keyboard.press('Tab');
    const [here, text] = await page.evaluate(() => {
      const { activeElement: at } = document;
      const label =
        at instanceof HTMLInputElement || at instanceof HTMLSelectElement ? at.labels?.[0]?.textContent : null;
      return [at?.tagName ?? '', at?.getAttribute('aria-label') ?? label ?? at?.textContent ?? ''] as const;
    });
    if (here === tag && name.test(text)) return;
  }
  throw new Error(`the keyboard does not reach ${tag} ${String(name)}`);
}

/** On a busy machine the link is drawn anew between the two keys when the progress is saved: then once more, as a person would. */
async function goOn(page: Page, title: string): Promise<void> {
  const heading = page.getByRole('heading', { name: title, exact: true });
  for (const timeout of [15_000, 60_000]) {
    await tabTo(page, 'A', /^Next lesson/);
    await page.keyboard.press('Enter');
    const came = await heading.waitFor({ timeout }).then(
      () => true,
      () => false,
    );
    if (came) return;
  }
}

describe.skipIf(noBrowser !== null)('lessons', { timeout: 240_000 }, () => {
  let at: BrowserBench;
  beforeAll(async () => {
    at = await browserBench();
  }, 120_000);
  afterAll(() => at.close());

  const teaching = createTeaching();
  const board = seedBoard('lk417');
  /** What the board says, so that the test can answer. */
  async function known(lesson: (typeof lessonIds)[number]): Promise<{ lesson: Lesson; card: CardPage | null }> {
    const told = await teaching.teach({ kind: 'lesson', board, lesson, ref: null });
    if (!told.ok || 'why' in told.answer) throw new Error(`${lesson} is not given on the demo board`);
    const card = await teaching.teach({ kind: 'card', board, lesson, ref: told.answer.ref });
    return { lesson: told.answer, card: card.ok ? card.answer : null };
  }

  it('every one is finished by keyboard; the folder keeps what was done', async () => {
    const { page, problems } = await at.visit();
    await page.getByRole('link', { name: 'Lessons', exact: true }).waitFor();
    await tabTo(page, 'A', /^Lessons$/);
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Lessons', exact: true }).waitFor();
    await tabTo(page, 'A', new RegExp(lessonTitles.leg));
    await page.keyboard.press('Enter');
    for (const id of lessonIds) {
      const { lesson, card } = await known(id);
      await page.getByRole('heading', { name: lessonTitles[id], exact: true }).waitFor();
      await page.locator('.predict').waitFor({ timeout: 60_000 });
      await tabTo(page, 'INPUT', /./);
      if (lesson.mark.kind === 'level') await page.keyboard.press('ArrowLeft');
      else await page.keyboard.press('Space');
      await tabTo(page, 'BUTTON', /^Show the answer$/);
      await page.keyboard.press('Enter');
      // The focus goes where the page goes on.
      await page.waitForFunction(() => document.activeElement?.textContent === '2  What it teaches');
      expect(card).not.toBeNull();
      if (card === null) continue;
      await page.getByRole('combobox', { name: 'What is wrong' }).waitFor({ timeout: 60_000 });
      if (lesson.walk !== null) {
        await tabTo(page, 'INPUT', /^Value of/);
        const before = await page.locator('.walk-numbers').textContent();
        await page.keyboard.press('ArrowLeft');
        expect(await page.locator('.walk-numbers').textContent()).not.toBe(before);
      }
      await tabTo(page, 'BUTTON', /^Measure: /);
      await page.keyboard.press('Enter');
      await page.getByText('1 measurement so far').waitFor();
      await tabTo(page, 'SELECT', /What is wrong/);
      // First one that it is not.
      const wrong = card.answer === 0 ? 1 : 0;
      for (let n = 0; n <= wrong; n++) await page.keyboard.press('ArrowDown');
      await tabTo(page, 'BUTTON', /^Name it$/);
      await page.keyboard.press('Enter');
      await page.getByText(/^(Not that\. With|It is not)/).waitFor();
      await page.keyboard.press('Shift+Tab');
      const move = card.answer > wrong ? 'ArrowDown' : 'ArrowUp';
      for (let n = 0; n < Math.abs(card.answer - wrong); n++) await page.keyboard.press(move);
      await page.keyboard.press('Tab');
      await page.keyboard.press('Enter');
      await page.getByText(`Found: ${card.suspects[card.answer]!.label}.`).waitFor();
      const next = lessonIds[lessonIds.indexOf(id) + 1];
      if (next !== undefined) await goOn(page, lessonTitles[next]);
    }
    await tabTo(page, 'A', /^All lessons$/);
    await page.keyboard.press('Enter');
    await page
      .getByText(/solved with 1 measurement/)
      .nth(7)
      .waitFor();
    await page.reload();
    await page
      .getByText(/solved with 1 measurement/)
      .nth(7)
      .waitFor();
    const kept = await readFile(join(at.bench.folder, 'lessons.csv'), 'utf8');
    expect(kept.trim().split('\r\n')).toHaveLength(1 + lessonIds.length);
    expect(problems).toEqual([]);
    await page.context().close();
  });

  it('the mark is put on the figure itself, too', async () => {
    const { page } = await at.visit();
    await page.getByRole('link', { name: 'Lessons', exact: true }).click();
    await page.getByRole('link', { name: lessonTitles.leg }).click();
    const figure = page.locator('.is-markable svg').first();
    await figure.waitFor();
    const { x, y, width, height } = (await figure.boundingBox())!;
    await page.mouse.click(x + width / 4, y + height / 2);
    const marked = await page.getByRole('slider').getAttribute('aria-valuetext');
    await page.mouse.click(x + width / 4, y + (3 * height) / 4);
    const lower = await page.getByRole('slider').getAttribute('aria-valuetext');
    const number = (text: string | null): number => parseFloat(text!.replace('−', '-'));
    expect(number(lower)).toBeLessThan(number(marked) - 3);
    expect(await page.locator('.lesson-figure svg').first().textContent()).toContain(`your mark ${lower}`);
    await page.context().close();
  });

  it('a board without the part says so and offers one that has it', async () => {
    const { page } = await at.visit();
    await page.getByRole('link', { name: 'Lessons', exact: true }).waitFor();
    await page.goto(`${page.url().split('#')[0]}#file=boards/lk310.board.yaml&as=lessons&lesson=leg`);
    await page.getByText('This board has no capacitor in its feedback leg.').waitFor();
    await page.getByRole('link', { name: 'boards/lk630.board.yaml' }).click({ timeout: 60_000 });
    await page.getByText('Computed on boards/lk630.board.yaml, as drawn.').waitFor();
    await page.getByRole('slider').waitFor({ timeout: 60_000 });
    await page.context().close();
  });

  for (const colorScheme of ['light', 'dark'] as const) {
    for (const width of [1440, 360]) {
      it(`${colorScheme}, ${width} px: list and lesson hold WCAG 2.2 AA and keep inside the width`, async () => {
        const { page } = await at.visit({ colorScheme, viewport: { width, height: 900 }, bypassCSP: true });
        const isWithin = (): Promise<boolean> =>
          page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth);
        await page.getByRole('link', { name: 'Lessons', exact: true }).click();
        await page.getByRole('heading', { name: 'Lessons', exact: true }).waitFor();
        expect(await violations(page)).toEqual([]);
        expect(await isWithin()).toBe(true);
        await page.getByRole('link', { name: lessonTitles.corner }).click();
        await page.getByRole('slider').waitFor();
        expect(await violations(page)).toEqual([]);
        await page.getByRole('button', { name: 'Show the answer' }).click();
        await page.getByRole('combobox').waitFor({ timeout: 60_000 });
        expect(await violations(page)).toEqual([]);
        expect(await isWithin()).toBe(true);
        await page.context().close();
      });
    }
  }
});
