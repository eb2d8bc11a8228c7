import { chromium } from 'playwright-core';
import { readFileSync } from 'node:fs';
const address = readFileSync('/tmp/pgb/address', 'utf8').trim();
const axe = readFileSync('node_modules/axe-core/axe.min.js', 'utf8');
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });
for (const scheme of ['light', 'dark'] as const) for (const width of [1440, 360]) {
  const page = await browser.newPage({ viewport: { width, height: 900 }, colorScheme: scheme, bypassCSP: true });
  page.on('pageerror', (e) => console.log('ERR', e.message));
  await page.goto(address); await page.waitForSelector('.verdict .counts', { timeout: 60000 });
  await page.click('#row-C103');
  const check = async (name: string) => {
    await page.evaluate(axe);
    const r = await page.evaluate(() => (window as any).axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }));
    for (const v of r.violations) console.log(scheme, width, name, v.id, v.nodes.length, v.nodes.slice(0, 3).map((n: any) => n.html.slice(0, 140) + ' :: ' + n.failureSummary.split('\n')[1]).join('\n    '));
    const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    if (over > 0) console.log('OVERFLOW', name, over);
  };
  await check('sheet');
  await page.click('nav >> text=Text'); await page.waitForSelector('.cm-content'); await check('text');
  await page.screenshot({ path: `/tmp/pgb/text-${scheme}-${width}.png` });
  await page.click('nav >> text=Jobs and boards'); await page.waitForSelector('.entries'); await page.locator('text=New job').first().click(); await check('list');
  await page.screenshot({ path: `/tmp/pgb/list-${scheme}-${width}.png` });
  await page.close();
}
await browser.close();
