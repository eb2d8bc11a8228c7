import { cpSync, existsSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { repositoryPath, runLong } from './recording-desk.ts';

const places = ['/usr/bin/chromium', '/usr/bin/chromium-browser'];

/** Where a browser to draw by is installed; undefined where there is none. */
export const chromiumPath: string | undefined = process.env.CHROMIUM ?? places.find((place) => existsSync(place));

/** A picture of the demo job's proof and rework sheet at 1000 and 360 px, and both as PDF on A4, into `folder`; the names of the files. */
export async function takeProofShots(folder: string): Promise<readonly string[]> {
  if (chromiumPath === undefined) throw new Error(`no Chromium at ${places.join(', ')} or in CHROMIUM`);
  mkdirSync(folder, { recursive: true });
  const home = mkdtempSync(join(tmpdir(), 'curvewright-shots-'));
  const browser = await chromium.launch({ executablePath: chromiumPath, args: ['--no-sandbox', '--disable-gpu'] });
  const taken: string[] = [];
  try {
    cpSync(repositoryPath('seeds'), home, { recursive: true });
    const { status, complaint } = await runLong('proof', join(home, 'jobs/lk417.job.yaml'), '--rework');
    if (status !== 0) throw new Error(complaint);
    for (const kind of ['proof', 'rework']) {
      for (const width of [1000, 360]) {
        const page = await browser.newPage({ viewport: { width, height: 1300 } });
        await page.goto(pathToFileURL(join(home, `jobs/lk417.${kind}.html`)).href);
        const path = join(folder, `${kind}-${width}.png`);
        await page.screenshot({ path, fullPage: width < 1000 });
        taken.push(path);
        if (width === 1000) {
          taken.push(join(folder, `${kind}.pdf`));
          await page.pdf({ path: join(folder, `${kind}.pdf`), format: 'A4' });
        }
        await page.close();
      }
    }
  } finally {
    await browser.close();
    rmSync(home, { recursive: true, force: true });
  }
  return taken;
}
