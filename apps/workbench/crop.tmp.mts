import { chromium } from 'playwright-core';
import { readFileSync } from 'node:fs';
// crop.tmp.mts in out width y1 y2 y3 ; sets strips side by side
const [src, out, ...ys] = process.argv.slice(2);
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });
const data = 'data:image/png;base64,' + readFileSync(src!).toString('base64');
const page = await browser.newPage({ viewport: { width: 380 * ys.length, height: 1300 } });
await page.setContent(ys.map((y) => `<div style="float:left;width:360px;height:1300px;margin-right:20px;background:url(${data}) 0 -${y}px"></div>`).join('') );
await page.screenshot({ path: out! });
await browser.close();
