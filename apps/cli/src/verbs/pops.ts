import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Diagnostic, Outcome, State } from '@curvewright/board';
import { popsAnswer, popsChange, type Calibration, type PopsAnswer } from '@curvewright/capture';
import { popsFigures, popsPage, svgFigure, type PopsRecording } from '@curvewright/report';
import { gainReader } from '@curvewright/verify';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { reasonOf, writeWhole } from '../files.ts';
import { untilInterrupted } from '../interrupt.ts';
import { openRecording } from '../recording.ts';
import { scanForPops, type Scan } from '../scan-for-pops.ts';
import { stageOf } from '../stage-of.ts';

export interface PopsOptions {
  readonly json?: boolean;
  /** A recording from before the repair. */
  readonly before?: string;
  /** A job or board whose gain at 1 kHz refers heights to the input; or the gain itself, in dB. */
  readonly job?: string;
  readonly state?: State;
  readonly gain?: number;
  /** V rms of a sine that is full scale to the recorder. */
  readonly recorder?: number;
  /** Standard deviations of the noise. */
  readonly threshold: number;
  /** A folder that takes the picture of every channel as SVG. */
  readonly drawings?: string;
}

/** Pops in a recording of silence, read from disk as it goes; Ctrl-C gives what is done so far. */
export async function pops(file: string, options: PopsOptions, desk: Desk): Promise<Status> {
  const json = options.json ?? false;
  const gains = gainsOf(options);
  if (!gains.ok) return refuse(desk, gains.diagnostics, json);
  const calibration = { recorderV: options.recorder ?? null, gains: gains.value };
  const scans = await untilInterrupted(async (signal) => {
    const scan = async (each: string): Promise<Outcome<Scanned>> => scanned(each, options, calibration, signal, desk);
    const before = options.before === undefined ? null : await scan(options.before);
    return before?.ok === false ? before : { ok: true as const, value: { before, now: await scan(file) } };
  });
  desk.progress('');
  if (!scans.ok) return refuse(desk, scans.diagnostics, json);
  const { before, now } = scans.value;
  if (!now.ok) return refuse(desk, now.diagnostics, json);
  const { answer, scan } = now.value;
  const recording: PopsRecording = {
    ...{ recording: file, rate: scan.header.rate, threshold: options.threshold },
    ...{ leftMinutes: scan.leftSeconds / 60, lost: scan.header.lost },
    ...answer,
    before:
      before?.ok === true && options.before !== undefined
        ? { recording: options.before, changes: popsChange(before.value.answer, answer) }
        : null,
  };
  const trouble = options.drawings === undefined ? null : writeDrawings(options.drawings, recording);
  if (trouble !== null) return refuse(desk, [trouble], json);
  if (json) printJson(desk, recording);
  else desk.out(popsPage(recording, desk));
  return 0;
}

interface Scanned {
  readonly answer: PopsAnswer;
  readonly scan: Scan;
}

async function scanned(
  file: string,
  { threshold }: PopsOptions,
  { recorderV, gains }: Pick<Calibration, 'recorderV'> & { gains: GainsByChannel },
  signal: AbortSignal,
  desk: Desk,
): Promise<Outcome<Scanned>> {
  const opened = openRecording(file);
  if (!opened.ok) return opened;
  const { close, ...recording } = opened.value;
  try {
    const scan = await scanForPops(file, recording, threshold, signal, (words) => {
      desk.progress(words);
    });
    if (!scan.ok) return scan;
    const names = namesOf(recording.header.channels);
    const gainDb = names.map((name, c) => gains(name, c));
    return {
      ok: true,
      value: { answer: popsAnswer(scan.value.found, names, { recorderV, gainDb }), scan: scan.value },
    };
  } finally {
    close();
  }
}

function namesOf(channels: number): readonly string[] {
  if (channels === 1) return ['mono'];
  return channels === 2 ? ['left', 'right'] : Array.from({ length: channels }, (_, c) => `channel ${c + 1}`);
}

type GainsByChannel = (name: string, index: number) => number | null;

/** A stated gain is every channel's; a stage's is that of the channel of this name, or of the only one. */
function gainsOf({ gain, job, state }: PopsOptions): Outcome<GainsByChannel> {
  if (job === undefined) return { ok: true, value: () => gain ?? null };
  const solved = stageOf(job, { state });
  if (!solved.ok) return solved;
  const { stage } = solved.value;
  const reader = gainReader(stage, 'riaa');
  const { channels } = stage.circuit;
  return {
    ok: true,
    value: (name) => {
      const index = channels.length === 1 ? 0 : channels.findIndex((channel) => channel.name === name);
      return index < 0 ? null : reader.gainDb(index, 1000);
    },
  };
}

/** One file for each channel, on light paper; what went wrong, or null. */
function writeDrawings(folder: string, answer: PopsAnswer): Diagnostic | null {
  let at = folder;
  try {
    mkdirSync(folder, { recursive: true });
    popsFigures(answer).forEach((figure, c) => {
      at = join(folder, `pops-${answer.channels[c]?.name.replaceAll(' ', '-') ?? c}.svg`);
      writeWhole(at, `${svgFigure(figure, { size: 'full', ink: 'light', titled: true })}\n`);
    });
    return null;
  } catch (trouble) {
    const place = { file: at, line: 1, column: 1 };
    return { code: 'unreadable-file', place, message: `the file ${reasonOf(trouble)}` };
  }
}
