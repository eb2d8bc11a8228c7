import { dirname, isAbsolute, join } from 'node:path';
import type { Job, Outcome } from '@curvewright/board';
import { listen, readResponseCsv, type ListenAnswer } from '@curvewright/capture';
import { measuredPoints, type MeasuredChannel, type Measurement } from '@curvewright/verify';
import { readText } from './files.ts';
import { listenInput } from './listen-files.ts';

/** Reads what a job says was measured, from paths relative to it; null where it says nothing. A channel is taken from where it is met first. */
export function measurementOf(job: Job, file: string): Outcome<Measurement | null> {
  const { measured } = job.entry;
  if (measured === undefined) return { ok: true, value: null };
  const from = (path: string): string => (isAbsolute(path) ? path : join(dirname(file), path));
  const channels: MeasuredChannel[] = [];
  const problems: string[] = [];
  const add = (channel: MeasuredChannel): void => {
    if (!channels.some(({ name }) => name === channel.name)) channels.push(channel);
  };
  const { recordings = [], response = {}, signal, level, recorder } = measured;
  const [loopback, adapter, chain, shorted] = [
    measured.loopback,
    measured.adapter,
    measured.chain,
    measured.shorted,
  ].map((path) => (path === undefined || path === null ? null : from(path)));
  for (const recording of recordings) {
    if (signal === undefined) {
      problems.push(
        `${recording}: not read without the signal it is of; write signal: and the .signal.json written with it`,
      );
      continue;
    }
    const files = {
      signal: from(signal),
      loopback: loopback ?? null,
      adapter: adapter ?? null,
      chain: chain ?? null,
      shorted: shorted ?? null,
      ...(level === undefined ? {} : { level }),
      ...(recorder === undefined ? {} : { recorder }),
    };
    const input = listenInput(from(recording), files);
    if (!input.ok) {
      if (!isUnread(input)) return input;
      problems.push(...wordsOf(input));
      continue;
    }
    const answer = listen(input.value);
    problems.push(...answer.problems.map(({ message }) => `${recording}: ${message}`));
    channelsOf(answer).forEach(add);
  }
  for (const [name, path] of Object.entries(response)) {
    const text = readText(from(path));
    if (!text.ok) {
      problems.push(...wordsOf(text));
      continue;
    }
    const points = readResponseCsv(text.value, from(path));
    if (!points.ok) return points;
    add({ name, gainDb: null, hissUv: null, points: measuredPoints(points.value) });
  }
  const ofChain = measured.at !== 'board' && chain === null && loopback === null;
  return { ok: true, value: { state: measured.state, at: measured.at, ofChain, channels, problems } };
}

function channelsOf({ channels }: ListenAnswer): readonly MeasuredChannel[] {
  return channels.map(({ name, gainDb, noise, points }) => ({
    name,
    gainDb,
    hissUv: noise?.from === 'shorted' ? (noise.aWeighted?.inputUv ?? null) : null,
    points: points.map(({ hz, deviationDb, snrDb }) => ({
      hz,
      deviationDb,
      // Noise so far below moves a level by 20 lg(1 + its amplitude in phase): 8.7 dB · 10^(−S/N/20)/√2; nothing is better known than a converter is flat.
      sigmaDb: Math.hypot(0.02, 6.1 * 10 ** (-(snrDb ?? 0) / 20)),
    })),
  }));
}

type Refused = Extract<Outcome<unknown>, { ok: false }>;

/** A file that is not there leaves its channel unmeasured; one that is there and wrong is a fault. */
function isUnread({ diagnostics }: Refused): boolean {
  return diagnostics.every(({ code }) => code === 'unreadable-file');
}

function wordsOf({ diagnostics }: Refused): readonly string[] {
  return diagnostics.map(({ place, message }) => `${place.file}: ${message}`);
}
