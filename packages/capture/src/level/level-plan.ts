import { targetDb } from '@curvewright/curves';
import { shapingDb } from '../signal/shaping.ts';
import type { Shaping } from '../signal/signal-plan.ts';

/** The way from the player through the adapter and the board to the recorder. Volts are rms of a sine. */
export interface Hookup {
  /** V of a full-scale sine at the open output of the player. */
  readonly playerVolts: number;
  /** Gain of the adapter from that open output to the phono input, dB at a frequency in Hz. */
  readonly adapterDb: (hz: number) => number;
  /** Of the board at 1 kHz, dB; it follows the playback curve. */
  readonly boardGainDb: number;
  /** V at the phono input that overload the board at 1 kHz. */
  readonly overloadVolts: number;
  /** V of a sine that is full scale to the recorder. */
  readonly recorderVolts: number;
}

export interface LevelWishes {
  readonly shaping: Shaping;
  /** The ends of the sweep, Hz. */
  readonly fromHz: number;
  readonly toHz: number;
  /** V rms wanted at the phono input at 1 kHz. */
  readonly inputVolts: number;
}

export interface LevelPlan {
  /** Peak at 1 kHz, dB re full scale of the file. */
  readonly levelDbfs: number;
  /** What keeps the level where it is: what was wanted, or what would overload first. */
  readonly limitedBy: 'wanted' | 'player' | 'board' | 'recorder';
  readonly points: readonly LevelPoint[];
}

/** Levels along the way at a frequency, while the signal plays it. */
export interface LevelPoint {
  readonly hz: number;
  /** Peak, dB re full scale. */
  readonly playedDbfs: number;
  /** mV rms at the phono input. */
  readonly inputMv: number;
  /** mV rms at the board's output. */
  readonly outputMv: number;
  /** Peak, dB re full scale of the recorder. */
  readonly backDbfs: number;
}

/** Kept free below full scale of player and recorder, and below the board's overload (common practice, no source). */
const converterSpareDb = 3;
const boardSpareDb = 6;

/** The level at which nothing overloads anywhere on the way, and the levels that this gives. */
export function planLevel(hookup: Hookup, wishes: LevelWishes): LevelPlan {
  const { shaping, fromHz, toHz, inputVolts } = wishes;
  const along = frequenciesAlong(fromHz, toHz);
  // All at a level of 0 dB re full scale at 1 kHz; whatever is above its limit there sets how far the level has to come down.
  const at0 = along.map((hz) => pointAt(hz, 0, hookup, shaping));
  const wanted = db(inputVolts / hookup.playerVolts) - hookup.adapterDb(1000);
  const levels = {
    player: -converterSpareDb - Math.max(...at0.map(({ playedDbfs }) => playedDbfs)),
    board: -boardSpareDb - Math.max(...at0.map(({ hz, inputMv }) => db(inputMv / 1000 / overloadAt(hz, hookup)))),
    recorder: -converterSpareDb - Math.max(...at0.map(({ backDbfs }) => backDbfs)),
  };
  const [limitedBy, levelDbfs] = (['player', 'board', 'recorder'] as const).reduce<
    readonly [LevelPlan['limitedBy'], number]
  >((least, name) => (levels[name] < least[1] ? [name, levels[name]] : least), ['wanted', wanted]);
  const shown = [20, 1000, 20_000].filter((hz) => hz > fromHz && hz < toHz);
  const points = [fromHz, ...shown, toHz].map((hz) => pointAt(hz, levelDbfs, hookup, shaping));
  return { levelDbfs, limitedBy, points };
}

function pointAt(hz: number, levelDbfs: number, hookup: Hookup, shaping: Shaping): LevelPoint {
  const playedDbfs = levelDbfs + shapingDb(shaping, hz);
  const inputVolts = hookup.playerVolts * ratio(playedDbfs + hookup.adapterDb(hz));
  const outputVolts = inputVolts * ratio(hookup.boardGainDb + targetDb('riaa', hz));
  const backDbfs = db(outputVolts / hookup.recorderVolts);
  return { hz, playedDbfs, inputMv: 1000 * inputVolts, outputMv: 1000 * outputVolts, backDbfs };
}

/** A board whose output clips takes as much more at the input as its gain is less. */
function overloadAt(hz: number, { overloadVolts }: Hookup): number {
  return overloadVolts * ratio(-targetDb('riaa', hz));
}

function frequenciesAlong(fromHz: number, toHz: number): readonly number[] {
  const steps = 60;
  return Array.from({ length: steps + 1 }, (_, n) => fromHz * (toHz / fromHz) ** (n / steps));
}

function db(factor: number): number {
  return 20 * Math.log10(factor);
}

function ratio(decibels: number): number {
  return 10 ** (decibels / 20);
}
