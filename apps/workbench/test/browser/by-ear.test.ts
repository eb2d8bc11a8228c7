import { readFile } from 'node:fs/promises';
import FFT from 'fft.js';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createCompute } from '../../src/compute/compute.ts';
import { demo, viewOf } from '../compute/demo.ts';
import { violations } from './axe.ts';
import { browserBench, noBrowser, type BrowserBench } from './bench-browser.ts';

const sampleRate = 48_000;

/** A stereo WAV file of 16 bits. */
function wav(samples: (n: number) => number, frames: number, rate: number = sampleRate): Buffer {
  const bytes = Buffer.alloc(44 + 4 * frames);
  bytes.write('RIFF', 0);
  bytes.writeUInt32LE(36 + 4 * frames, 4);
  bytes.write('WAVEfmt ', 8);
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(1, 20);
  bytes.writeUInt16LE(2, 22);
  bytes.writeUInt32LE(rate, 24);
  bytes.writeUInt32LE(4 * rate, 28);
  bytes.writeUInt16LE(4, 32);
  bytes.writeUInt16LE(16, 34);
  bytes.write('data', 36);
  bytes.writeUInt32LE(4 * frames, 40);
  for (let n = 0; n < frames; n++) {
    const value = Math.round(32_767 * samples(n));
    bytes.writeInt16LE(value, 44 + 4 * n);
    bytes.writeInt16LE(value, 46 + 4 * n);
  }
  return bytes;
}

async function load(page: Page, name: string, buffer: Buffer): Promise<void> {
  await page.getByRole('link', { name: 'By ear', exact: true }).click();
  await page.getByLabel('A sound file of yours').setInputFiles({ name, mimeType: 'audio/wav', buffer });
  await page.getByRole('radio', { name: 'as rebuilt' }).waitFor({ timeout: 60_000 });
}

/** Of 32-bit floating point, as the page saves it. */
async function saved(page: Page): Promise<{ rate: number; channels: [Float64Array, Float64Array] }> {
  const [download] = await Promise.all([
    page.waitForEvent('download', { timeout: 60_000 }),
    page.getByRole('button', { name: /Save what is heard/ }).click(),
  ]);
  const bytes = await readFile(await download.path());
  const frames = (bytes.length - 44) / 8;
  const channel = (c: number): Float64Array =>
    Float64Array.from({ length: frames }, (_, n) => bytes.readFloatLE(44 + 8 * n + 4 * c));
  return { rate: bytes.readUInt32LE(24), channels: [channel(0), channel(1)] };
}

function levels(samples: Float64Array, rate: number): (hz: number) => number {
  const size = 2 ** 17;
  const transform = new FFT(size) as { realTransform(out: Float64Array, from: Float64Array): void };
  const padded = new Float64Array(size);
  padded.set(samples.subarray(0, size));
  const out = new Float64Array(2 * size);
  transform.realTransform(out, padded);
  return (hz) => {
    const k = Math.round((hz * size) / rate);
    return 20 * Math.log10(Math.hypot(out[2 * k]!, out[2 * k + 1]!));
  };
}

describe.skipIf(noBrowser !== null)('by ear', { timeout: 120_000 }, () => {
  let at: BrowserBench;
  beforeAll(async () => {
    at = await browserBench();
  }, 120_000);
  afterAll(() => at.close());

  it('what is heard holds the computed deviation within 0.1 dB, rendered offline by the page', async () => {
    const { page } = await at.visit();
    // At the rate at which the browser plays: it would else filter the click to change it.
    const own = await page.evaluate(() => new AudioContext().sampleRate);
    const click = wav((n) => (n === 100 ? 1 : 0), own / 10, own);
    await load(page, 'click.wav', click);
    const view = viewOf(await createCompute().open(demo(1)));
    let worst = 0;
    for (const [s, name] of ['as drawn', 'as found', 'as rebuilt'].entries()) {
      await page.getByRole('radio', { name }).check();
      const { rate, channels } = await saved(page);
      const { hz, deviationDb } = view.curves[s]!;
      channels.forEach((samples, c) => {
        const level = levels(samples, rate);
        const at1k = level(1000);
        hz.forEach((each, i) => {
          if (each < 20 || each > 20_000) return;
          const off = level(each) - at1k - deviationDb[c]![i]!;
          worst = Math.max(worst, Math.abs(off));
        });
      });
    }
    console.log(`rendered offline against the computed deviation: ${worst.toFixed(3)} dB at most`);
    expect(worst).toBeLessThan(0.1);
    await page.context().close();
  });

  it('is quiet and off until asked, and is switched by keyboard while it plays', async () => {
    const { page, problems } = await at.visit();
    await load(
      page,
      'tone.wav',
      wav((n) => 0.3 * Math.sin((2 * Math.PI * 440 * n) / sampleRate), 2 * sampleRate),
    );
    expect(await page.getByRole('slider', { name: 'Volume' }).getAttribute('aria-valuetext')).toBe('−40 dB');
    expect(await page.getByRole('checkbox', { name: 'hiss' }).isChecked()).toBe(false);
    expect(await page.getByRole('checkbox', { name: 'hum' }).isChecked()).toBe(false);
    await page.getByRole('button', { name: 'Play' }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Stop' }).waitFor();
    await page.getByRole('radio', { name: 'the file itself' }).focus();
    for (const name of ['as drawn', 'as found', 'as rebuilt']) {
      await page.keyboard.press('ArrowDown');
      expect(await page.getByRole('radio', { name }).isChecked()).toBe(true);
      // It plays on: nothing was stopped to switch.
      expect(await page.getByRole('button', { name: 'Stop' }).isVisible()).toBe(true);
    }
    await page.getByRole('checkbox', { name: 'hiss' }).check();
    await page.getByText(/Hiss −\d+\.\d+ dB, hum −\d+\.\d+ dB against a programme of 5 mV/).waitFor();
    await page.getByRole('button', { name: 'Stop' }).click();
    await page.getByRole('button', { name: 'Play' }).waitFor();
    expect(problems).toEqual([]);
    await page.context().close();
  });

  it('hiss stands in the file at its relation to the programme', async () => {
    const { page } = await at.visit();
    const level = 0.25;
    await load(
      page,
      'tone.wav',
      wav((n) => level * Math.SQRT2 * Math.sin((2 * Math.PI * 1000 * n) / sampleRate), 2 * sampleRate),
    );
    await page.getByRole('radio', { name: 'as rebuilt' }).check();
    const told = (await page.getByText(/^Hiss/).textContent())!.replaceAll('−', '-');
    const hissDb = Number(/Hiss (-[\d.]+) dB/.exec(told)![1]);
    const { channels: without } = await saved(page);
    await page.getByRole('checkbox', { name: 'hiss' }).check();
    const { channels: withHiss, rate } = await saved(page);
    const rms = (c: 0 | 1): number => {
      let [power, count] = [0, 0];
      for (let n = rate / 2; n < 1.5 * rate; n++, count++) power += (withHiss[c][n]! - without[c][n]!) ** 2;
      return Math.sqrt(power / count);
    };
    const matchDb = Number(
      /by ([+−][\d.]+) dB/.exec((await page.getByText(/^brought to/).textContent())!)![1]!.replace('−', '-'),
    );
    // One second of noise whose power lies in the bass: some tenths of a dB from its mean.
    expect(20 * Math.log10(Math.max(rms(0), rms(1)) / level) - matchDb).toBeGreaterThan(hissDb - 1.5);
    expect(20 * Math.log10(Math.max(rms(0), rms(1)) / level) - matchDb).toBeLessThan(hissDb + 1.5);
    await page.context().close();
  });

  it('says what is no sound', async () => {
    const { page } = await at.visit();
    await page.getByRole('link', { name: 'By ear', exact: true }).click();
    await page
      .getByLabel('A sound file of yours')
      .setInputFiles({ name: 'notes.txt', mimeType: 'text/plain', buffer: Buffer.from('no sound') });
    await page.getByText('notes.txt is no sound that this browser reads').waitFor();
    await page.context().close();
  });

  for (const colorScheme of ['light', 'dark'] as const) {
    for (const width of [1440, 360]) {
      it(`${colorScheme}, ${width} px: holds WCAG 2.2 AA and keeps inside the width`, async () => {
        const { page } = await at.visit({ colorScheme, viewport: { width, height: 900 }, bypassCSP: true });
        await load(
          page,
          'click.wav',
          wav((n) => (n === 100 ? 1 : 0), 4800),
        );
        expect(await violations(page)).toEqual([]);
        expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);
        if (process.env.SHOTS)
          await page.screenshot({ path: `/tmp/lessons/ear-${colorScheme}-${width}.png`, fullPage: true });
        await page.context().close();
      });
    }
  }
});
