import { describe, expect, it } from 'vitest';
import { listen, planSignal, renderSignal, type Shaping, type Wav } from '@curvewright/capture';
import { targetDb } from '@curvewright/curves';
import {
  compileNetwork,
  idealSource,
  linearise,
  solveBias,
  solveResponse,
  type SmallSignal,
} from '@curvewright/network';
import { seedBoard } from '../seeds/read-seeds.ts';
import { modeGain, modesOf, type Modes } from './modes.ts';
import { normalNumbers } from './noise-source.ts';
import { recordedOutputs } from './simulated-recorder.ts';

/** The left channel of a demo board, its losses in a form that has a place in time. */
function leftChannel(name: string): SmallSignal {
  const network = compileNetwork(seedBoard(name).circuit, idealSource, { loss: 'series' });
  const bias = solveBias(network);
  if (!bias.ok) throw new Error(bias.diagnostic.message);
  return linearise(network, bias.point);
}

function ofLeft({ list, direct }: Modes): Modes {
  return {
    list: list.map(({ pole, residue }) => ({ pole, residue: [[residue[0]![0]!]] })),
    direct: [[direct[0]![0]!]],
  };
}

function gainsDb(small: SmallSignal, frequencies: readonly number[]): readonly number[] {
  const pairs = solveResponse(small, Float64Array.from(frequencies)).gains[0]![0]!;
  return frequencies.map((_, n) => 20 * Math.log10(Math.hypot(pairs[2 * n]!, pairs[2 * n + 1]!)));
}

interface Trial {
  readonly board: string;
  readonly shaping: Shaping;
  readonly sweepSeconds: number;
  readonly ppm: number;
  readonly playedRate: number;
  readonly recordedRate: number;
}

/** V at the board's input of a full-scale sample, V rms of a sine that is full scale to the recorder. */
const playerPeak = 0.02;
const startS = 0.4371;

/** Plays through the board into a recorder of 16 bits: noise 50 dB below the sweep as it comes out, hum as much below, and DC. */
function trial({ board, shaping, sweepSeconds, ppm, playedRate, recordedRate }: Trial): ReturnType<typeof measured> {
  const small = leftChannel(board);
  const modes = ofLeft(modesOf(small));
  const plan = planSignal({
    rate: playedRate,
    steps: ['level', 'sweep'],
    shaping,
    levelDbfs: shaping === 'flat' ? -12 : -32,
    sweepSeconds,
    fromHz: 5,
    toHz: 0.45 * playedRate,
    silenceSeconds: 1,
  });
  const played = renderSignal(plan)[0].map((x) => playerPeak * x);
  const [output] = recordedOutputs(modes, [played], {
    playedRate,
    recordedRate,
    ppm,
    startS,
    seconds: plan.seconds + 1,
  });
  return measured(small, modes, plan, output!, recordedRate);
}

function measured(
  small: SmallSignal,
  modes: Modes,
  plan: ReturnType<typeof planSignal>,
  output: Float64Array,
  rate: number,
): {
  answer: ReturnType<typeof listen>;
  small: SmallSignal;
  modes: Modes;
} {
  const sweep = plan.segments.find(({ kind }) => kind === 'sweep')!;
  const stretch = output.subarray(
    Math.round((startS + sweep.at) * rate),
    Math.round((startS + sweep.at + sweep.seconds) * rate),
  );
  const rms = Math.sqrt(stretch.reduce((sum, x) => sum + x * x, 0) / stretch.length);
  const fullScale = 1.3 * output.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  const below = rms * 10 ** (-50 / 20);
  const normal = normalNumbers(20261125);
  const samples = output.map((x, n) => {
    const hum = Math.SQRT2 * below * Math.sin((2 * Math.PI * 50.02 * n) / rate + 1);
    return Math.round(((x + below * normal() + hum + 0.02 * rms) / fullScale) * 32_768) / 32_768;
  });
  const recording: Wav = { rate, bits: 16, format: 'pcm', channels: [samples], frames: samples.length, lost: [] };
  const level = (playerPeak * 10 ** (plan.levelDbfs / 20)) / Math.SQRT2;
  const answer = listen({
    plan,
    recording,
    loopback: null,
    shorted: null,
    adapter: null,
    chain: null,
    level,
    fullScale: fullScale / Math.SQRT2,
  });
  return { answer, small, modes };
}

const trials: readonly Trial[] = [
  { board: 'lk417', shaping: 'flat', sweepSeconds: 20, ppm: 80, playedRate: 48_000, recordedRate: 48_000 },
  { board: 'lk205', shaping: 'inverse_riaa', sweepSeconds: 5, ppm: -80, playedRate: 48_000, recordedRate: 44_100 },
  { board: 'lk310', shaping: 'inverse_riaa', sweepSeconds: 4, ppm: -80, playedRate: 48_000, recordedRate: 48_000 },
];

describe.each(trials)('a recording of $board, sweep of $sweepSeconds s, $shaping, clocks $ppm ppm apart', (each) => {
  // Twenty seconds of sound, stepped in time and worked through: some seconds, and much longer where a busy machine runs it.
  it('gives deviation and gain to 0.05 dB and the drift to 1 ppm', { timeout: 240_000 }, () => {
    const { answer, small, modes } = trial(each);
    const [channel] = answer.channels;
    const points = channel!.points.filter(({ hz }) => hz >= 20 && hz <= Math.min(20_000, 0.45 * each.recordedRate));
    const frequencies = points.map(({ hz }) => hz);
    const gains = gainsDb(small, [...frequencies, 1000]);
    const atKilohertz = gains.at(-1)!;
    frequencies.forEach((hz, n) => {
      // What is recorded is the board that the engine solves: both ways to its gain agree.
      expect(Math.abs(20 * Math.log10(modeGain(modes, 0, 0, hz)) - gains[n]!)).toBeLessThan(2e-3);
      // Asked: 0.05 dB.
      const want = gains[n]! - atKilohertz - targetDb('riaa', hz);
      expect(Math.abs(points[n]!.deviationDb! - want), `${hz} Hz`).toBeLessThan(0.05);
    });
    expect(frequencies.at(-1)).toBe(each.recordedRate === 44_100 ? 16_000 : 20_000);
    expect(Math.abs(channel!.gainDb! - atKilohertz)).toBeLessThan(0.05);
    // Asked: 1 ppm. The clock is told in parts of the player's.
    expect(Math.abs(answer.clock!.ppm! - each.ppm)).toBeLessThan(1);
    expect(answer.clock!.offsetS).toBeCloseTo(startS, 3);
    const named = answer.problems.map(({ code }) => code).filter((code) => code !== 'one-channel');
    expect(named).toEqual(each.playedRate === each.recordedRate ? [] : ['other-rate']);
  });
});
