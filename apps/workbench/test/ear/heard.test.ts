import { joinJob, readBoard, readJob } from '@curvewright/board';
import { humAnswer, noiseAnswer, stageJob, type StagedState } from '@curvewright/verify';
import FFT from 'fft.js';
import { beforeAll, describe, expect, it } from 'vitest';
import { heard } from '../../src/compute/hear.ts';
import type { HeardState } from '../../src/contract/hear.ts';
import { demo } from '../compute/demo.ts';

const sampleRate = 48_000;

/** Magnitudes in dB of the lines k·sampleRate/size of a sound that is shorter than `size`. */
function levels(samples: Float32Array, size: number): (hz: number) => number {
  const transform = new FFT(size) as { realTransform(out: Float64Array, from: Float64Array): void };
  const padded = new Float64Array(size);
  padded.set(samples);
  const out = new Float64Array(2 * size);
  transform.realTransform(out, padded);
  return (hz) => {
    const k = Math.round((hz * size) / sampleRate);
    return 20 * Math.log10(Math.hypot(out[2 * k]!, out[2 * k + 1]!));
  };
}

describe('what there is to hear of the demo job', () => {
  let states: readonly HeardState[];
  let staged: readonly StagedState[];

  beforeAll(() => {
    const subject = demo(1);
    const told = heard({ subject, sampleRate });
    const board = readBoard(subject.board.text, 'board');
    const job = readJob(subject.job!.text, 'job');
    if (!told.ok || !board.ok || !job.ok) throw new Error('the demo cannot be computed');
    const joined = joinJob(job.value, board.value);
    const both = joined.ok ? stageJob(joined.value) : joined;
    if (!both.ok) throw new Error('the demo cannot be computed');
    states = told.states;
    staged = both.value.states;
  }, 60_000);

  it('is all three states', () => {
    expect(states.map(({ state }) => state)).toEqual(['drawn', 'found', 'rebuilt']);
  });

  it('is filters that hold the computed deviation within 0.1 dB from 20 Hz to 20 kHz', () => {
    let worst = 0;
    states.forEach(({ channels }, s) => {
      const { reader } = staged[s]!.probe;
      channels.forEach(({ filter }, c) => {
        // Longer than the filter: its lines lie 0.4 Hz apart, and are asked for where they lie.
        const size = 2 ** 17;
        const level = levels(filter, size);
        const line = (hz: number): number => (Math.round((hz * size) / sampleRate) * sampleRate) / size;
        for (let hz = 20; hz <= 20_000; hz *= 1.1) {
          const at = line(hz);
          const off = level(at) - level(1000) - (reader.deviationDb(c, at) - reader.deviationDb(c, line(1000)));
          worst = Math.max(worst, Math.abs(off));
        }
      });
    });
    console.log(`filters against the computed deviation: ${worst.toFixed(4)} dB at most`);
    expect(worst).toBeLessThan(0.1);
  });

  it('keeps the balance of the channels, and sets nothing before the sound', () => {
    states.forEach(({ channels: [left, right] }, s) => {
      const { reader } = staged[s]!.probe;
      const heardDb = levels(left!.filter, 2 ** 17)(1000) - levels(right!.filter, 2 ** 17)(1000);
      // The lines of the transform are 0.4 Hz apart, where no curve moves by more than this.
      expect(heardDb).toBeCloseTo(reader.gainDb(0, 1000) - reader.gainDb(1, 1000), 2);
      // Minimum phase: most of what follows a click comes within a millisecond of it.
      const power = (from: number, to: number): number =>
        left!.filter.slice(from, to).reduce((sum, each) => sum + each * each, 0);
      expect(power(0, 48) / power(0, left!.filter.length)).toBeGreaterThan(0.9);
    });
  });

  it('is as loud in every state: pink noise, A-weighted, over both channels', () => {
    // IEC 61672-1, A-weighting by its poles, written out anew here.
    const a = (f: number): number =>
      (12194 ** 2 * f ** 4) /
      ((f ** 2 + 20.6 ** 2) * Math.sqrt((f ** 2 + 107.7 ** 2) * (f ** 2 + 737.9 ** 2)) * (f ** 2 + 12194 ** 2));
    const loudness = states.map(({ channels }) => {
      let [power, whole] = [0, 0];
      for (const { filter } of channels) {
        const level = levels(filter, 2 ** 17);
        for (let hz = 20; hz < 20_000; hz *= 1.02) {
          power += a(hz) ** 2 * 10 ** (level(hz) / 10);
          whole += a(hz) ** 2;
        }
      }
      return 10 * Math.log10(power / whole);
    });
    // A just noticeable difference of loudness is some tenths of a dB; from memory.
    for (const each of loudness) expect(Math.abs(each)).toBeLessThan(0.05);
  });

  it('is hiss and hum at their relation to 5 mV', () => {
    states.forEach(({ channels, matchDb }, s) => {
      const { stage } = staged[s]!.probe;
      const noise = noiseAnswer(stage);
      const hum = humAnswer(stage);
      channels.forEach(({ hiss, hum: humLoop, humDb }, c) => {
        const rms = (samples: Float32Array): number =>
          Math.sqrt(samples.reduce((sum, each) => sum + each * each, 0) / samples.length);
        // The loop holds 20 Hz to 20 kHz and some more at either end; the band is cut out of its lines.
        const size = hiss.length;
        const level = levels(hiss, size);
        let power = 0;
        for (let k = Math.ceil((20 * size) / sampleRate); k <= (20_000 * size) / sampleRate; k++) {
          power += 2 * (10 ** (level((k * sampleRate) / size) / 20) / size) ** 2;
        }
        const snrDb = -10 * Math.log10(power) + matchDb;
        // Between its lines the density is read straight off a grid of 12 a decade.
        expect(snrDb).toBeCloseTo(noise.channels[c]!.snrDb, 1);
        expect(humDb).toBeCloseTo(hum.channels[c]!.humDb!, 6);
        // One second of float samples.
        expect(20 * Math.log10(rms(humLoop!)) - matchDb).toBeCloseTo(humDb!, 3);
      });
    });
  });
});
