import { existsSync } from 'node:fs';
import {
  highestSweepHz,
  planLevel,
  planSignal,
  renderSignal,
  signalSteps,
  writeWav,
  type Shaping,
  type SignalPlan,
  type SignalStep,
} from '@curvewright/capture';
import { signalPage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import { askHookup } from '../ask-hookup.ts';
import type { Desk } from '../desk.ts';
import { reasonOf, unreadable, writeNew } from '../files.ts';
import { hookupOf, type HookupOptions } from '../hookup.ts';

export interface SignalOptions extends HookupOptions {
  readonly json?: boolean;
  readonly rate: number;
  readonly bits: SignalBits;
  readonly steps: readonly SignalStep[];
  /** A file for each step. */
  readonly apart?: boolean;
  /** Where silent, what the adapter leaves to do. */
  readonly shape?: Shaping;
  /** V rms wanted at the phono input at 1 kHz. */
  readonly input: number;
  /** Hz */
  readonly from: number;
  /** Hz; the rate's highest where silent. */
  readonly to?: number;
  /** s */
  readonly sweep: number;
  readonly silence: number;
}

/** Bits of PCM, or floating point of 32. */
export const signalBits = ['16', '24', '32', 'float'] as const;
export type SignalBits = (typeof signalBits)[number];

/** The same trembling in every file of the same plan. */
const ditherSeed = 1;

/** Writes test signals at a level that overloads nothing on the way, each as a WAV file with its plan beside it. */
export function signal(name: string, options: SignalOptions, desk: Desk): Status | Promise<Status> {
  const silentOnAdapter = options.adapter === undefined && options.ratio === undefined;
  if (!desk.attended || !silentOnAdapter || options.json) return writeSignals(name, options, desk);
  return askHookup(desk).then((answers) => {
    if (answers === null) return 2;
    return writeSignals(name, { ...options, ...answers }, desk);
  });
}

function writeSignals(name: string, options: SignalOptions, desk: Desk): Status {
  const json = options.json ?? false;
  const { rate, bits, from: fromHz, to: toHz = highestSweepHz(rate) } = options;
  if (!(fromHz < toHz && toHz < rate / 2)) {
    desk.complain(`a sweep from ${fromHz} to ${toHz} Hz does not go into ${rate} frames a second; write a lower --to`);
    return 2;
  }
  const found = hookupOf(options);
  if (!found.ok) return refuse(desk, found.diagnostics, json);
  const { hookup, figures } = found.value;
  const shaping = options.shape ?? (figures.adapterShaping === 'flat' ? 'inverse_riaa' : 'flat');
  const level = planLevel(hookup, { shaping, fromHz, toHz, inputVolts: options.input });
  const wishes = {
    rate,
    shaping,
    levelDbfs: level.levelDbfs,
    sweepSeconds: options.sweep,
    silenceSeconds: options.silence,
    fromHz,
    toHz,
  };
  const groups = options.apart ? options.steps.map((step) => [step]) : [options.steps];
  const files = groups.map((steps) => {
    const stem = options.apart ? `${name}-${steps.join()}` : name;
    return { wav: `${stem}.wav`, plan: `${stem}.signal.json`, signal: planSignal({ ...wishes, steps }) };
  });
  const there = files.flatMap(({ wav, plan }) => [wav, plan]).find((file) => existsSync(file));
  if (there !== undefined) {
    return refuse(
      desk,
      unreadable(there, 'is there already; give the signal another name, or move it away').diagnostics,
      json,
    );
  }
  let at = '';
  try {
    for (const { wav, plan, signal: planned } of files) {
      at = plan;
      writeNew(plan, `${JSON.stringify(planned, null, 2)}\n`);
      at = wav;
      writeNew(wav, wavOf(planned, bits));
    }
  } catch (trouble) {
    return refuse(desk, unreadable(at, reasonOf(trouble)).diagnostics, json);
  }
  const answer = { files, hookup: figures, level, inputMv: 1000 * options.input, bits };
  if (json) printJson(desk, answer);
  else desk.out(signalPage(answer, desk));
  return 0;
}

function wavOf(plan: SignalPlan, bits: SignalBits): Uint8Array {
  const { rate } = plan;
  const channels = renderSignal(plan);
  switch (bits) {
    case 'float':
      return writeWav({ rate, bits: 32, format: 'float', channels });
    case '16':
      return writeWav({ rate, bits: 16, format: 'pcm', channels, dither: ditherSeed });
    default:
      return writeWav({ rate, bits: bits === '24' ? 24 : 32, format: 'pcm', channels });
  }
}

/** Steps with commas between, in the order in which they are to be played; null where one is unknown. */
export function stepsNamed(text: string): readonly SignalStep[] | null {
  const named = text.split(',').map((each) => signalSteps.find((step) => step === each.trim()));
  return named.every((step) => step !== undefined) && new Set(named).size === named.length ? named : null;
}
