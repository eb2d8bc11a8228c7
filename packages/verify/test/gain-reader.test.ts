import { targetDb } from '@curvewright/curves';
import { describe, expect, it } from 'vitest';
import { gainReader } from '../src/index.ts';
import { idealAmplifier, idealEqualiser, monoBoard, stageOf, stereoBoard } from './stages.ts';

const lowPass = stereoBoard(`
  R101/R102: { kind: resistor, value: 10 kΩ, between: [in, out] }
  C101: { kind: capacitor, value: 10 nF, between: [out@left, gnd] }
  C102: { kind: capacitor, value: 22 nF, between: [out@right, gnd] }`);

describe('gainReader', () => {
  it('reads level and phase of each channel as the closed form of an RC low-pass has them', () => {
    const reader = gainReader(stageOf(lowPass.circuit));
    [10e-9, 22e-9].forEach((farads, channel) => {
      for (const hz of [2, 1591, 20_000]) {
        const wRC = 2 * Math.PI * hz * 10e3 * farads;
        // Eleven digits of a four-digit sum: rounding alone.
        expect(reader.gainDb(channel, hz)).toBeCloseTo(-10 * Math.log10(1 + wRC ** 2), 11);
        expect(reader.phaseDeg(channel, hz)).toBeCloseTo((-Math.atan(wRC) * 180) / Math.PI, 10);
      }
    });
    expect(reader.residual()).toBeLessThan(1e-14);
  });

  it('gives the same in whatever order frequencies are asked for', () => {
    const upwards = gainReader(stageOf(lowPass.circuit));
    const downwards = gainReader(stageOf(lowPass.circuit));
    const frequencies = [2, 30, 1000, 15_000];
    const up = frequencies.map((hz) => upwards.gainDb(1, hz));
    const down = frequencies.toReversed().map((hz) => downwards.gainDb(1, hz));
    expect(down.toReversed()).toEqual(up);
  });

  it('has 0 dB of deviation at 1 kHz and holds the rest against the target', () => {
    const stage = stageOf(lowPass.circuit);
    for (const target of ['riaa', 'riaa-1976'] as const) {
      const reader = gainReader(stage, target);
      expect(reader.deviationDb(0, 1000)).toBeCloseTo(0, 12);
      const shape = reader.gainDb(0, 30) - reader.gainDb(0, 1000);
      expect(reader.deviationDb(0, 30)).toBeCloseTo(shape - targetDb(target, 30), 12);
    }
  });

  it('finds no deviation on an ideal equaliser, and its inversion as 180°', () => {
    const board = monoBoard(`${idealEqualiser}\nR9: { kind: resistor, value: 1 Ω, between: [o, out] }`, idealAmplifier);
    const reader = gainReader(stageOf(board.circuit));
    // Part values carry 16 digits; 1e-9 dB is what closed forms are held to throughout.
    for (const hz of [2, 20, 500, 2122, 20_000, 100_000])
      expect(Math.abs(reader.deviationDb(0, hz))).toBeLessThan(1e-9);
    expect(gainReader(stageOf(inverter.circuit)).phaseDeg(0, 1000)).toBe(180);
  });
});

const inverter = monoBoard(
  `
  R1: { kind: resistor, value: 10 kΩ, between: [in, m] }
  R2: { kind: resistor, value: 47 kΩ, between: [m, out] }
  U1: { type: OA, plus: gnd, minus: m, out: out }`,
  idealAmplifier,
);
