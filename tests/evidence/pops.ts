import { spawn } from 'node:child_process';
import { closeSync, mkdirSync, openSync, readFileSync, rmSync, writeFileSync, writeSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { writeWav } from '@curvewright/capture';
import { clicks, every, popsIn, recordingOf, telegraph } from '../../packages/capture/test/pops/planted.ts';
import { silence, type Silence } from '../../packages/capture/test/pops/silence.ts';

const main = resolve(import.meta.dirname, '../../apps/cli/src/main.ts');

/** An hour of two channels at 96 kHz, without a pop: Gaussian noise, 1/f noise and hum, 24 bits. */
const hour = { rate: 96_000, minutes: 60, bits: 24 } as const;

const backgrounds: readonly (readonly [string, Silence])[] = [
  ['white noise', { rate: 96_000, seed: 101, white: 1e-4 }],
  ['white and 1/f noise', { rate: 96_000, seed: 102, white: 1e-4, flicker: 3e-5 }],
  [
    'equalised hiss, 1/f noise, hum',
    { rate: 96_000, seed: 103, white: 1e-3, equalised: true, flicker: 2e-5, hum: 1e-3 },
  ],
];

/** What `pops` finds of what was planted, what it finds where nothing was, how fast it is and how much memory it takes. Writes `pops.md`. */
export async function popsEvidence(folder: string): Promise<readonly string[]> {
  mkdirSync(folder, { recursive: true });
  const lines = [...(await wholeHour(folder)), '', ...detection()];
  writeFileSync(join(folder, 'pops.md'), `${lines.join('\n')}\n`);
  return lines;
}

async function wholeHour(folder: string): Promise<readonly string[]> {
  const wav = join(folder, 'silence.wav');
  writeHour(wav);
  const { seconds, cpuSeconds, peakBytes, out } = await watched(['pops', wav, '--json']);
  rmSync(wav);
  const { channels } = JSON.parse(out) as { channels: { count: number; minutes: number; rateHighPerMin: number }[] };
  const recorded = 60 * hour.minutes;
  return [
    `An hour of 2 channels at ${hour.rate} Hz, ${hour.bits} bits, Gaussian and 1/f noise and hum, without a pop:`,
    ...channels.map(
      ({ count, minutes, rateHighPerMin }, c) =>
        `  channel ${c + 1}: ${count} found in ${minutes} min; below ${rateHighPerMin.toFixed(4)} per minute, 95 %`,
    ),
    `  ${cpuSeconds.toFixed(0)} s of one core, ${(recorded / cpuSeconds).toFixed(0)} × real time (${seconds.toFixed(0)} s by the clock)`,
    `  at most ${(peakBytes / 2 ** 20).toFixed(0)} MiB of memory`,
  ];
}

function writeHour(path: string): void {
  const { rate, minutes, bits } = hour;
  const handle = openSync(path, 'w');
  const noise = [1, 2].map((seed) => silence({ rate, seed, white: 1e-3, equalised: true, flicker: 2e-5, hum: 1e-3 }));
  let [at, dataBytes] = [0, 0];
  const put = (bytes: Uint8Array): void => {
    at += writeSync(handle, bytes, 0, bytes.length, at);
  };
  const header = 44;
  put(new Uint8Array(header));
  for (let second = 0; second < 60 * minutes; second++) {
    const wav = writeWav({
      ...{ rate, bits, format: 'pcm' },
      channels: noise.map((next) => Float64Array.from({ length: rate }, next)),
    });
    put(wav.subarray(header));
    dataBytes += wav.length - header;
  }
  const start = writeWav({ rate, bits, format: 'pcm', channels: noise.map(() => new Float64Array(0)) });
  const fields = new DataView(start.buffer);
  fields.setUint32(4, header - 8 + dataBytes, true);
  fields.setUint32(header - 4, dataBytes, true);
  writeSync(handle, start, 0, header, 0);
  closeSync(handle);
}

interface Watched {
  readonly out: string;
  readonly seconds: number;
  readonly cpuSeconds: number;
  readonly peakBytes: number;
}

/** Runs the tool as its own process, and watches its clock ticks (100 a second) and its memory's high water as Linux tells them. */
async function watched(words: readonly string[]): Promise<Watched> {
  const start = performance.now();
  const child = spawn(process.execPath, ['--import', 'tsx', main, ...words], { stdio: ['ignore', 'pipe', 'inherit'] });
  let [out, ticks, peakBytes] = ['', 0, 0];
  child.stdout.on('data', (piece: Buffer) => (out += piece.toString()));
  const watch = setInterval(() => {
    try {
      const stat = readFileSync(`/proc/${child.pid}/stat`, 'utf8')
        .replace(/^.*\) /s, '')
        .split(' ');
      ticks = Number(stat[11]) + Number(stat[12]);
      const [, kib] = /^VmHWM:\s+(\d+)/m.exec(readFileSync(`/proc/${child.pid}/status`, 'utf8')) ?? [];
      peakBytes = Math.max(peakBytes, 1024 * Number(kib ?? 0));
    } catch {
      // It has just ended.
    }
  }, 100);
  const status = await new Promise((ended) => child.on('close', ended));
  clearInterval(watch);
  if (status !== 0) throw new Error(`${words.join(' ')} ended with ${String(status)}`);
  return { out, seconds: (performance.now() - start) / 1000, cpuSeconds: ticks / 100, peakBytes };
}

const heights = [0.5, 0.75, 0.9, 1, 1.25, 1.5, 2] as const;
const planted = 50;

/** s between what is planted: clicks, and the toggles of a level. */
const apart = { click: 0.31, step: 1.7 } as const;

/** Of 50 planted, at so many times the height that is promised: found, those of them told as what they are, and found beside them. */
function detection(): readonly string[] {
  const rows = backgrounds.flatMap(([name, { rate, ...noise }]) =>
    (['click', 'step'] as const).map((kind) => {
      const times = every(0.5, 0.5 + (planted - 1) * apart[kind], apart[kind]);
      const seconds = times.at(-1)! + 1;
      const background = { rate: rate / 2, ...noise };
      const { least } = popsIn(recordingOf(background, seconds), background.rate);
      const cells = heights.map((factor) => {
        const height = factor * least[kind]!;
        const plant = kind === 'click' ? clicks(times, height) : telegraph(times, height);
        const { hits } = popsIn(recordingOf(background, seconds, plant), background.rate);
        const found = hits.filter(({ at }) => times.some((time) => Math.abs(time - at) < 0.01));
        const named = found.filter((hit) => hit.kind === kind);
        return `${found.length}, ${named.length}, ${hits.length - found.length}`;
      });
      return `| ${name}: ${kind}s | ${cells.join(' | ')} |`;
    }),
  );
  return [
    `Of ${planted} planted, by their height as a multiple of what \`least\` promises (98 of 100): found, told as what they are, found beside them:`,
    '',
    `| in | ${heights.join(' | ')} |`,
    `|${' --- |'.repeat(heights.length + 1)}`,
    ...rows,
  ];
}
