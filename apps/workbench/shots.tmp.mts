import { chromium } from 'playwright-core';
import { readFileSync } from 'node:fs';
const address = readFileSync('/tmp/pgb/address', 'utf8').trim();
const which = process.argv[2] ?? 'all';
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });
for (const [name, width, scheme] of [['wide-light', 1440, 'light'], ['wide-dark', 1440, 'dark'], ['phone-light', 360, 'light'], ['phone-dark', 360, 'dark']] as const) {
  if (which !== 'all' && !name.startsWith(which)) continue;
  const page = await browser.newPage({ viewport: { width, height: 900 }, colorScheme: scheme });
  page.on('console', (m) => console.log(name, m.type(), m.text()));
  page.on('pageerror', (e) => console.log(name, 'ERR', e.message));
  const t = Date.now();
  await page.goto(address);
  await page.waitForSelector('.positions table');
  console.log(name, 'rows after', Date.now() - t);
  await page.waitForSelector('.verdict .counts', { timeout: 60000 });
  console.log(name, 'verdict after', Date.now() - t);
  await page.waitForTimeout(9000); await page.screenshot({ path: `/tmp/pgb/${name}.png`, fullPage: true });
  await page.click('#row-C103');
  await page.screenshot({ path: `/tmp/pgb/${name}-open.png`, fullPage: true });
  const overflow = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  if (overflow > 0) console.log(name, 'OVERFLOW', overflow);
  await page.close();
}
await browser.close();
