import { readFileSync } from 'node:fs';
import { agePart, readBoard, type Circuit, type Part } from '@curvewright/board';
import type { Source } from '@curvewright/network';
import { describe, expect, it } from 'vitest';
import { noiseAnswer, solveStage, type NoiseAnswer, type Stage } from '../src/index.ts';
import { monoBoard, stageOf, stereoBoard, valueOf } from './stages.ts';

/** A noiseless follower on 47 kΩ, then the passive playback network of S. P. Lipshitz, JAES 27(6), 1979, row 3 (ratios from memory), small enough to make no noise. */
const quietStage = monoBoard(
  `
  R1: { kind: resistor, value: 47 kΩ, between: [in, gnd] }
  U1: { type: OA, plus: in, minus: a, out: a }
  R2: { kind: resistor, value: 10 mΩ, between: [a, out] }
  R3: { kind: resistor, value: ${10 / 6.8774} mΩ, between: [out, b] }
  C1: { kind: capacitor, value: 218.7 mF, between: [b, gnd] }
  C2: { kind: capacitor, value: ${218.7 / 2.916} mF, between: [out, gnd] }`,
  'types: { OA: { kind: opamp } }',
);

function noiseOf(circuit: Circuit, source?: Source, cartridge?: string): NoiseAnswer {
  return noiseAnswer(valueOf(solveStage(circuit, source)), cartridge);
}

describe('noiseAnswer', () => {
  // Computed from 4kT·Re Z of the cartridge on 47 kΩ, weighted with RIAA and A, at 300 K.
  it.each([
    ['500 mH 1 kΩ', 1e3, 0.5, 0, 81.83],
    ['470 mH 610 Ω 150 pF', 610, 0.47, 150e-12, 81.78],
    ['1 kΩ resistive', 1e3, 0, 0, 86.81],
  ])(
    'finds the signal-to-noise ratio of a cartridge of %s before a noiseless amplifier',
    (_, resistance, inductance, capacitance, snr) => {
      const answer = noiseOf({ ...quietStage.circuit, ambient: 300 }, { resistance, inductance, capacitance });
      expect(Math.abs(answer.channels[0]!.snrAWeightedDb - snr)).toBeLessThan(0.05);
    },
  );

  it('always says source, reference and weighting', () => {
    const shorted = noiseOf(quietStage.circuit);
    expect(shorted).toMatchObject({
      source: 'shorted',
      reference: '5 mV rms at 1 kHz at the input',
      weighting: 'none, and A (IEC 61672-1)',
      fromHz: 20,
      toHz: 20_000,
    });
    expect(noiseOf(quietStage.circuit, { resistance: 1000, inductance: 0, capacitance: 0 }).source).toBe('1 kΩ');
    const cartridge = { resistance: 800, inductance: 0.48, capacitance: 150e-12 };
    expect(noiseOf(quietStage.circuit, cartridge, 'MM-A').source).toBe('MM-A (800 Ω, 480 mH, 150 pF)');
  });

  it('refers the output to the input by the gain at 1 kHz, and its spectrum by the gain at each frequency', () => {
    const board = monoBoard(
      `
      R1: { kind: resistor, value: 10 kΩ, between: [in, p] }
      U1: { type: OA, plus: p, minus: m, out: out }
      R2: { kind: resistor, value: 1 mΩ, between: [m, gnd] }
      R3: { kind: resistor, value: 99 mΩ, between: [m, out] }`,
      'types: { OA: { kind: opamp, en: 5 nV/√Hz } }',
    );
    const [channel] = noiseOf({ ...board.circuit, ambient: 300 }).channels;
    // 10 kΩ at 300 K makes 12.872 nV/√Hz (published), the op-amp 5; the leg adds 1e-4 of them at most.
    const density = Math.hypot(12.872, 5);
    expect(channel!.gainDb).toBeCloseTo(40, 9);
    expect(channel!.points.find(({ hz }) => hz === 1000)!.inputNv / density - 1).toBeCloseTo(0, 4);
    expect(channel!.inputUv / (density * 1e-3 * Math.sqrt(20_000 - 20)) - 1).toBeCloseTo(0, 4);
    // Bandwidth of A-weighting in the band, published.
    expect(channel!.inputAWeightedUv / (density * 1e-3 * Math.sqrt(12_467.2)) - 1).toBeCloseTo(0, 4);
    expect(channel!.snrDb).toBeCloseTo(20 * Math.log10(5e3 / channel!.inputUv), 9);
  });

  it('holds its spectrum against the gain at the same frequency: what comes before an equaliser is as white as it was', () => {
    const [channel] = noiseOf(
      { ...quietStage.circuit, ambient: 300 },
      { resistance: 1000, inductance: 0, capacitance: 0 },
    ).channels;
    const white = Math.sqrt(4 * 1.380649e-23 * 300 * (1 / (1 / 1000 + 1 / 47_000))) * 1e9;
    for (const { hz, inputNv, outputNv } of channel!.points) {
      // The network's own 10 mΩ, up to 20 dB louder above the band, is 1e-4 of the voltage.
      expect(inputNv / white - 1).toBeCloseTo(0, 3);
      expect(outputNv / inputNv).toBeLessThan(hz < 1000 ? 1 : 0.2);
    }
  });

  it('ranks the parts by shares that add up to the whole, each split into what makes it', () => {
    for (const { shares } of noiseAnswer(seedStage('lk417')).channels) {
      for (const key of ['share', 'aWeightedShare'] as const) {
        // Rounding of some eighty terms.
        expect(shares.reduce((sum, each) => sum + each[key], 0)).toBeCloseTo(1, 12);
        for (const each of shares)
          expect(each.from.reduce((sum, part) => sum + part[key], 0)).toBeCloseTo(each[key], 14);
      }
      expect(shares.map(({ share }) => share)).toEqual(shares.map(({ share }) => share).toSorted((a, b) => b - a));
      expect(new Set(shares.map(({ ref }) => ref)).size).toBe(shares.length);
    }
  });

  it('lists the figures of noise that the file leaves out', () => {
    const figures = noiseAnswer(seedStage('lk310')).ideal.map(({ figure }) => figure);
    expect(figures).toContain('no 1/f noise');
    expect(figures).toContain('no excess noise');
    expect(noiseAnswer(seedStage('lk630')).ideal.map(({ figure }) => figure)).not.toContain('no en');
  });

  it('keeps the channels apart: what only one of them has makes no noise in the other', () => {
    const board = stereoBoard(`
      R101: { kind: resistor, value: 10 kΩ, between: [in@left, out@left] }
      R102: { kind: resistor, value: 40 kΩ, between: [in@right, out@right] }`);
    const [left, right] = noiseOf(board.circuit).channels;
    expect(left!.shares.map(({ ref }) => ref)).toEqual(['R101']);
    expect(right!.shares.map(({ ref }) => ref)).toEqual(['R102']);
    // Four times the resistance.
    expect(right!.inputUv / left!.inputUv).toBeCloseTo(2, 12);
  });
});

/** The circuit with one grounded resistor made noiseless: the output resistance of an op-amp that has nothing to do. */
function withQuiet(circuit: Circuit, ref: string): Circuit {
  const parts = circuit.parts.map((part): Part => {
    if (part.ref !== ref || part.kind !== 'resistor') return part;
    const { position, channel, place, ohms, between } = part;
    const type = { kind: 'opamp', gain: 1, Rout: ohms } as const;
    const leads = { plus: 'gnd', minus: 'gnd', out: between[0] === 'gnd' ? between[1] : between[0] };
    return { kind: 'typed', ref, position, channel, place, typeName: 'quiet', type, leads };
  });
  return { ...circuit, parts };
}

describe('each grounded resistor made noiseless in turn', () => {
  it.each(['lk205', 'lk310', 'lk417', 'lk520', 'lk630'])('lowers the power of %s by exactly its share', (name) => {
    const stage = seedStage(name);
    const before = noiseAnswer(stage).channels[0]!;
    const grounded = stage.circuit.parts.filter((part) => part.kind === 'resistor' && part.between.includes('gnd'));
    expect(grounded.length).toBeGreaterThanOrEqual(4);
    for (const { ref } of grounded) {
      const { share = 0, aWeightedShare = 0 } = before.shares.find((each) => each.ref === ref) ?? {};
      const after = noiseOf(withQuiet(stage.circuit, ref)).channels[0]!;
      // The bias is solved anew, to 1e-12 of the currents and what rounding leaves of the voltages.
      expect(Math.abs(1 - (after.inputUv / before.inputUv) ** 2 - share)).toBeLessThan(1e-8);
      expect(Math.abs(1 - (after.inputAWeightedUv / before.inputAWeightedUv) ** 2 - aWeightedShare)).toBeLessThan(1e-8);
    }
  });
});

function seedBoard(name: string): ReturnType<typeof monoBoard> {
  const text = readFileSync(new URL(`../../../seeds/boards/${name}.board.yaml`, import.meta.url), 'utf8');
  return valueOf(readBoard(text, `${name}.board.yaml`));
}

function seedStage(name: string): Stage {
  return stageOf(seedBoard(name).circuit);
}

/** The first transistor of the left channel with a 1/f corner of 20 kHz and 1 µA of leakage from collector to base. */
function withBadTransistor(circuit: Circuit): Circuit {
  const noisy = agePart(circuit, 'Q101', { kind: 'noisy', corner: 20e3 });
  return agePart(noisy, 'Q101', { kind: 'leaky_transistor', ICBO: 1e-6 });
}

describe('the triple seed', () => {
  const { circuit, cartridges } = seedBoard('lk417');
  const { resistance, inductance, cable = 0 } = cartridges['MM-A']!;
  const cartridge = { resistance, inductance, capacitance: cable };
  const cases = [
    ['healthy, shorted', noiseOf(circuit)],
    ['bad Q101, shorted', noiseOf(withBadTransistor(circuit))],
    ['healthy, cartridge', noiseOf(circuit, cartridge, 'MM-A')],
    ['bad Q101, cartridge', noiseOf(withBadTransistor(circuit), cartridge, 'MM-A')],
  ] as const;
  const left = new Map(cases.map(([what, { channels }]) => [what, channels[0]!]));

  it('shows who makes the hiss, healthy and with a leaky, 1/f-noisy first transistor, weighted and not', () => {
    for (const [what, { inputUv, inputAWeightedUv, shares }] of left) {
      const loudest = shares
        .slice(0, 4)
        .map(
          ({ ref, share, aWeightedShare }) =>
            `${ref} ${(100 * share).toFixed(1)} (A ${(100 * aWeightedShare).toFixed(1)}) %`,
        );
      console.log(
        `lk417 left, ${what}: ${inputUv.toFixed(3)} µV, A ${inputAWeightedUv.toFixed(3)} µV: ${loudest.join(', ')}`,
      );
    }
    expect([...left.values()].every(({ inputUv }) => inputUv > 0)).toBe(true);
  });

  it('loses more by the bad transistor than A-weighting lets on', () => {
    const worse = (key: 'inputUv' | 'inputAWeightedUv', source: 'shorted' | 'cartridge'): number =>
      20 * Math.log10(left.get(`bad Q101, ${source}`)![key] / left.get(`healthy, ${source}`)![key]);
    for (const source of ['shorted', 'cartridge'] as const) {
      expect(worse('inputAWeightedUv', source)).toBeGreaterThan(0);
      expect(worse('inputUv', source)).toBeGreaterThan(worse('inputAWeightedUv', source) + 1);
    }
  });

  it('leaves the other channel as quiet as it was', () => {
    const right = cases.map(([, { channels }]) => channels[1]!.inputUv);
    // The shared supply node moves with the left bias by less than that.
    expect(right[1]! / right[0]!).toBeCloseTo(1, 3);
  });
});
