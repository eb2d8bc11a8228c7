import { readFileSync } from 'node:fs';
import { readBoard } from '@curvewright/board';
import { frequencySolver } from '@curvewright/network';
import { describe, expect, it } from 'vitest';
import { loadingAnswer, solveStage, type NamedCartridge } from '../src/index.ts';
import { monoBoard, stageOf, valueOf } from './stages.ts';

const cartridge: NamedCartridge = { name: 'MM-A', resistance: 800, inductance: 0.48, capacitance: 150e-12 };

const input = (ohms: string): ReturnType<typeof stageOf> =>
  stageOf(
    monoBoard(`
      R1: { kind: resistor, value: ${ohms}, between: [in, gnd] }
      C1: { kind: capacitor, value: 50 pF, between: [in, gnd] }
      R2: { kind: resistor, value: 1 Ω, between: [out, in] }`).circuit,
  );

describe('loadingAnswer', () => {
  const answer = loadingAnswer(input('47 kΩ'), cartridge);
  const [channel] = answer.channels;

  it('finds resistance and capacitance of a plain input', () => {
    // 1 Ω beside 47 kΩ and 300 MΩ of reactance: the solve keeps ten digits of the small admittance.
    expect(channel!.inputOhms / 47e3).toBeCloseTo(1, 10);
    expect(channel!.capacitanceF / 50e-12).toBeCloseTo(1, 9);
    expect(answer.capacitanceHz).toBe(10_000);
    for (const { hz, ohms, phaseDeg } of channel!.points) {
      const turn = Math.atan(2 * Math.PI * hz * 50e-12 * 47e3);
      expect(ohms / (47e3 * Math.cos(turn))).toBeCloseTo(1, 10);
      expect(phaseDeg).toBeCloseTo((-turn * 180) / Math.PI, 9);
    }
  });

  it('gives the response of the cartridge into board and cable', () => {
    const level = (hz: number): number => {
      const omega = 2 * Math.PI * hz;
      const real = 1 + 800 / 47e3 - omega ** 2 * 0.48 * 200e-12;
      return -20 * Math.log10(Math.hypot(real, omega * (800 * 200e-12 + 0.48 / 47e3)));
    };
    for (const { hz, db, relativeDb } of channel!.response) {
      expect(db).toBeCloseTo(level(hz), 9);
      expect(relativeDb).toBeCloseTo(level(hz) - level(1000), 9);
    }
    channel!.curve.hz.forEach((hz, n) => {
      expect(channel!.curve.relativeDb[n]).toBeCloseTo(level(hz) - level(1000), 9);
    });
  });

  it.each([
    ['47 kΩ', 47e3],
    ['150 kΩ', 150e3],
  ])('finds where the node lags by 90° and the highest point, on %s', (written, load) => {
    const { resonance } = loadingAnswer(input(written), cartridge).channels[0]!;
    const lc = 0.48 * 200e-12;
    const a = 1 + 800 / load;
    const b = 800 * 200e-12 + 0.48 / load;
    // 1/H = a − ω²LC + jωb: it is imaginary at ω² = a/LC and least at ω² = a/LC − b²/2(LC)².
    expect(resonance!.hz! / (Math.sqrt(a / lc) / (2 * Math.PI))).toBeCloseTo(1, 8);
    const peak = Math.sqrt(a / lc - (b / lc) ** 2 / 2) / (2 * Math.PI);
    const level = (hz: number): number => {
      const omega = 2 * Math.PI * hz;
      return -20 * Math.log10(Math.hypot(a - omega ** 2 * lc, omega * b));
    };
    expect(resonance!.peakDb).toBeCloseTo(level(peak) - level(1000), 6);
    // The search stops at 1e-4 of the frequency; the height there is flat.
    expect(Math.abs(resonance!.peakHz / peak - 1)).toBeLessThan(2e-3);
  });

  it('finds no peak and no resonance on a load that damps everything', () => {
    const { resonance } = loadingAnswer(input('10 Ω'), cartridge).channels[0]!;
    expect(resonance).toEqual({ hz: null, peakHz: 1000, peakDb: 0 });
  });

  it('without a cartridge says what the input is, and no response', () => {
    const bare = loadingAnswer(input('47 kΩ'), null);
    expect(bare.cartridge).toBeNull();
    expect(bare.channels[0]).toMatchObject({ response: [], resonance: null });
    expect(bare.channels[0]!.points.length).toBeGreaterThan(30);
  });

  it.each(['lk205', 'lk310', 'lk417', 'lk520', 'lk630'])(
    'agrees on %s with the whole network solved with the cartridge at its input',
    (name) => {
      const text = readFileSync(new URL(`../../../seeds/boards/${name}.board.yaml`, import.meta.url), 'utf8');
      const { circuit } = valueOf(readBoard(text, `${name}.board.yaml`));
      const { response } = loadingAnswer(stageOf(circuit), cartridge).channels[0]!;
      const { small } = valueOf(solveStage(circuit, cartridge));
      const solver = frequencySolver(small);
      const { drive, input: node } = small.channels[0]!;
      for (const { hz, db } of response.filter((_, n) => n % 5 === 0)) {
        const x = new Float64Array(2 * small.size);
        x[2 * drive] = 1;
        expect(solver.setFrequency(hz)).toBe(true);
        solver.solve(x);
        // The coil's resistance shifts the bias a little where base current flows through it, and the gain with it the Miller part.
        expect(db).toBeCloseTo(20 * Math.log10(Math.hypot(x[2 * node]!, x[2 * node + 1]!)), 4);
      }
    },
  );
});
