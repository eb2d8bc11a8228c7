import type { Outcome } from '@curvewright/board';
import { readSignalPlan, type ListenInput, type ResponseTable, type Wav } from '@curvewright/capture';
import { logFrequencies } from '@curvewright/curves';
import { gainReader } from '@curvewright/verify';
import { readText } from './files.ts';
import { readRecording } from './recording.ts';
import { stageOf } from './stage-of.ts';

/** What belongs to a recording. */
export interface ListenFiles {
  /** The plan that was written with the signal. */
  readonly signal: string;
  readonly loopback?: string | null;
  readonly shorted?: string | null;
  /** Board files of what lies before and behind the board. */
  readonly adapter?: string | null;
  readonly chain?: string | null;
  /** V rms at the board's input at 1 kHz. */
  readonly level?: number;
  /** V rms of a sine that is full scale to the recorder. */
  readonly recorder?: number;
}

/** Reads a recording and all that belongs to it. */
export function listenInput(file: string, options: ListenFiles): Outcome<ListenInput> {
  const text = readText(options.signal);
  if (!text.ok) return text;
  const plan = readSignalPlan(text.value, options.signal);
  if (!plan.ok) return plan;
  const recording = readRecording(file);
  if (!recording.ok) return recording;
  const loopback = optional(options.loopback, readRecording);
  if (!loopback.ok) return loopback;
  const shorted = optional(options.shorted, readRecording);
  if (!shorted.ok) return shorted;
  const adapter = optional(options.adapter, responseOf);
  if (!adapter.ok) return adapter;
  const chain = optional(options.chain, responseOf);
  if (!chain.ok) return chain;
  const { level = null, recorder: fullScale = null } = options;
  return {
    ok: true,
    value: {
      plan: plan.value,
      recording: recording.value,
      loopback: loopback.value,
      shorted: shorted.value,
      adapter: adapter.value,
      chain: chain.value,
      level,
      fullScale,
    },
  };
}

function optional<T extends Wav | ResponseTable>(
  file: string | null | undefined,
  read: (file: string) => Outcome<T>,
): Outcome<T | null> {
  return file === undefined || file === null ? { ok: true, value: null } : read(file);
}

/** From the input to the output of a board file, fine enough to be read between its frequencies to 1e-3 dB; of two channels the first. */
function responseOf(file: string): Outcome<ResponseTable> {
  const solved = stageOf(file, {});
  if (!solved.ok) return solved;
  const reader = gainReader(solved.value.stage, 'riaa');
  const hz = logFrequencies(1, 100_000, 100);
  const gains = Array.from(hz, (each) => {
    const magnitude = 10 ** (reader.gainDb(0, each) / 20);
    const angle = (reader.phaseDeg(0, each) * Math.PI) / 180;
    return [magnitude * Math.cos(angle), magnitude * Math.sin(angle)] as const;
  });
  return { ok: true, value: { hz, re: gains.map(([re]) => re), im: gains.map(([, im]) => im) } };
}
