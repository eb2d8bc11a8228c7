import { readFileSync } from 'node:fs';
import { circuitOf, joinJob, readBoard, readJob } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { gainReader, headroom, overloadAt, thdAt } from '../src/index.ts';
import { steadySearch } from '@curvewright/network';
import { monoBoard, stageOf, stereoBoard, valueOf } from './stages.ts';

/** The demo job's board as rebuilt, which at 10 kHz must jump before it has 1 % distortion. */
function rebuiltStage(): ReturnType<typeof stageOf> {
  const [board, job] = ['seeds/boards/lk417.board.yaml', 'seeds/jobs/lk417.job.yaml'];
  const joined = joinJob(
    valueOf(readJob(readFileSync(job, 'utf8'), job)),
    valueOf(readBoard(readFileSync(board, 'utf8'), board)),
  );
  return stageOf(circuitOf(valueOf(joined), 'rebuilt')!.circuit);
}

const seeds = ['lk205', 'lk310', 'lk417', 'lk520', 'lk630'];

function seedStage(name: string): ReturnType<typeof stageOf> {
  const file = `seeds/boards/${name}.board.yaml`;
  return stageOf(valueOf(readBoard(readFileSync(file, 'utf8'), file)).circuit);
}

/** Peak over limit of the sine that has a THD (harmonics 2 to 10) of 1 % once cut off at ±limit, by the defining integrals. */
function cutForOnePercent(): number {
  const thd = (peak: number): number => {
    const samples = 20_000;
    const harmonic = (k: number): number => {
      let sum = 0;
      for (let n = 0; n < samples; n++) {
        const angle = (2 * Math.PI * (n + 0.5)) / samples;
        sum += Math.min(Math.max(peak * Math.cos(angle), -1), 1) * Math.cos(k * angle);
      }
      return (2 * sum) / samples;
    };
    return Math.hypot(harmonic(3), harmonic(5), harmonic(7), harmonic(9)) / harmonic(1);
  };
  let [low, high] = [1, 1.2];
  while (high - low > 1e-6) {
    const middle = (low + high) / 2;
    if (thd(middle) < 0.01) low = middle;
    else high = middle;
  }
  return low;
}

const rails = 'rails: { vcc: { volts: 15 V }, vee: { volts: -15 V } }';
const amplifier = `
  R1: { kind: resistor, value: 1 kΩ, between: [m, gnd] }
  R2: { kind: resistor, value: 9 kΩ, between: [m, a] }
  R3: { kind: resistor, value: 1 kΩ, between: [a, out] }
  R4: { kind: resistor, value: 1 MΩ, between: [out, gnd] }
  U1: { type: OA, plus: in, minus: m, out: a, rails: [vcc, vee] }`;
const types = `${rails}\ntypes:
  OA: { kind: opamp, gain: 100 dB, GBW: 10 MHz, swing: { above: 1.5 V, below: 1.5 V } }
  D: { kind: diode, VF: [{ value: 0.65 V, at: 1 mA }] }`;

describe('headroom', () => {
  const opAmpStage = stageOf(monoBoard(amplifier, types).circuit);

  it('finds the clipping of an op-amp where its output meets the supply less its swing', () => {
    const found = overloadAt(opAmpStage, 0, 1000);
    const closedForm = (1000 * cutForOnePercent() * (15 - 1.5)) / 10 / Math.SQRT2;
    // The corner is 5 mV wide on 13.5 V, 4e-4; the level is sought to 1e-3; 63 harmonics carry a corner to about as much.
    expect(Math.abs(found.inputMv! / closedForm - 1)).toBeLessThan(3e-3);
    expect(found).toMatchObject({ hz: 1000, by: 'distortion', limitedBy: 'U1' });
    expect(found.above5mvDb).toBeCloseTo(20 * Math.log10(found.inputMv! / 5), 9);
    // The fundamental of a sine cut a few percent is a percent short; R3 and R4 take 1e-3.
    expect(found.outputV! / (found.inputMv! / 100)).toBeGreaterThan(0.98);
  });

  it('names the diodes where they clip before the op-amp does', () => {
    const parts = `${amplifier}
      D1: { type: D, anode: out, cathode: gnd }
      D2: { type: D, anode: gnd, cathode: out }`;
    const found = overloadAt(stageOf(monoBoard(parts, types).circuit), 0, 1000);
    expect(['D1', 'D2']).toContain(found.limitedBy);
    // Two that clip alike share alike.
    expect(Math.abs(found.share! - 0.5)).toBeLessThan(0.01);
    expect(found.inputMv).toBeLessThan(60);
  });

  it('says so where nothing overloads, with every level tried', () => {
    const linear = stageOf(monoBoard('R1: { kind: resistor, value: 1 kΩ, between: [in, out] }').circuit);
    const { overload, points } = headroom(linear, [1000]).channels[0]!;
    expect(overload[0]).toMatchObject({ inputMv: null, by: null, limitedBy: null, triedMv: 5000, unresolved: false });
    expect(points.map(({ inputMv }) => inputMv)).toEqual([1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000]);
    expect(points.every(({ thdPercent }) => thdPercent === 0)).toBe(true);
  });

  it('finds compression where it comes before distortion', () => {
    // Tuned to 1 kHz behind the clipping diodes: the fundamental passes, the harmonics do not.
    const parts = `
      R1: { kind: resistor, value: 10 kΩ, between: [in, a] }
      D1: { type: D, anode: a, cathode: gnd }
      D2: { type: D, anode: gnd, cathode: a }
      R2: { kind: resistor, value: 1 MΩ, between: [a, b] }
      L1: { kind: inductor, value: 10 H, resistance: 0 Ω, between: [b, gnd] }
      C1: { kind: capacitor, value: 2.533 nF, between: [b, gnd] }
      R3: { kind: resistor, value: 1 MΩ, between: [b, out] }
      R4: { kind: resistor, value: 1 MΩ, between: [out, gnd] }`;
    const found = overloadAt(stageOf(monoBoard(parts, types).circuit), 0, 1000);
    expect(found.by).toBe('compression');
    expect(found.inputMv).toBeGreaterThan(0);
  });

  it('names the part that distorts, though another takes more of the gain', () => {
    const parts = `
      R1: { kind: resistor, value: 10 kΩ, between: [in, a] }
      D1: { type: D, anode: a, cathode: gnd }
      D2: { type: D, anode: gnd, cathode: a }
      R2: { kind: resistor, value: 1 MΩ, between: [a, b] }
      L1: { kind: inductor, value: 10 H, resistance: 0 Ω, between: [b, gnd] }
      C1: { kind: capacitor, value: 2.533 nF, between: [b, gnd] }
      U1: { type: OI, plus: b, minus: c, out: c }
      R3: { kind: resistor, value: 100 kΩ, between: [c, out] }
      R4: { kind: resistor, value: 470 kΩ, between: [out, gnd] }
      D3: { type: D, anode: out, cathode: gnd }`;
    const found = overloadAt(stageOf(monoBoard(parts, `${types}\n  OI: { kind: opamp }`).circuit), 0, 1000);
    expect(found).toMatchObject({ by: 'distortion', limitedBy: 'D3' });
  });

  it('asks distortion at a level directly', () => {
    const stage = seedStage('lk520');
    const { points } = headroom(stage, [1000]).channels[0]!;
    const told = points.find(({ inputMv }) => inputMv === 5)!;
    // Two ways to the same level: the search leaves 1e-7 of a swing, over a distortion of 1e-4.
    expect(Math.abs((100 * thdAt(stage, 0, 1000, 5e-3)!) / told.thdPercent - 1)).toBeLessThan(1e-3);
  });

  it('bounds an overload behind a jump no closer than from where the jump begins', () => {
    const stage = rebuiltStage();
    const found = overloadAt(stage, 0, 10_000);
    expect(found).toMatchObject({ unresolved: false, by: 'distortion' });
    expect(found.withinPercent).toBeGreaterThan(1);
    expect(found.withinPercent).toBeLessThan(5);
    expect(found.inputMv! / (1 + found.withinPercent! / 100)).toBeCloseTo(found.triedMv, 6);
    expect(overloadAt(stage, 0, 100).withinPercent).toBeLessThan(0.2);
  });

  it('gives twins the same figures and each its own part', () => {
    const pair = (second: string): ReturnType<typeof stageOf> =>
      stageOf(
        stereoBoard(
          `
          R1/R2: { kind: resistor, value: 10 kΩ, between: [in, out] }
          R3: { kind: resistor, value: 100 kΩ, between: [out@left, gnd] }
          R4: { kind: resistor, value: ${second}, between: [out@right, gnd] }
          D1/D2: { type: D, anode: out, cathode: gnd }`,
          'types: { D: { kind: diode, VF: [{ value: 0.65 V, at: 1 mA }] } }',
        ).circuit,
      );
    const [left, right] = headroom(pair('100 kΩ'), [1000]).channels;
    expect(left!.overload[0]!.limitedBy).toBe('D1');
    expect(right).toEqual({
      name: 'right',
      points: left!.points,
      overload: [{ ...left!.overload[0], limitedBy: 'D2' }],
    });
    const [, other] = headroom(pair('1 kΩ'), [1000]).channels;
    expect(other!.overload[0]!.limitedBy).toBe('D2');
    expect(other!.overload[0]!.inputMv).toBeGreaterThan(2 * left!.overload[0]!.inputMv!);
  });
});

describe.each(seeds)('headroom of %s', (name) => {
  const stage = seedStage(name);

  it('has the gain of the curve at a small level, within 0.01 dB at every frequency', () => {
    const reader = gainReader(stage);
    for (const hz of [20, 100, 1000, 10_000, 20_000]) {
      const state = steadySearch(stage.network, stage.point, stage.small, 0, hz).at(1e-4, null)!;
      const db = 20 * Math.log10(Math.hypot(state.output[2]!, state.output[3]!) / 1e-4 / Math.SQRT2);
      expect(Math.abs(db - reader.gainDb(0, hz))).toBeLessThan(0.01);
    }
  });

  it('finds an overload at 1 kHz, limited by a part of its channel, with distortion growing up to it', () => {
    const { channels } = headroom(stage, [1000]);
    for (const channel of channels) {
      const [found] = channel.overload;
      const part = stage.circuit.parts.find(({ ref }) => ref === found!.limitedBy);
      expect(part).toMatchObject({ kind: 'typed', channel: channel.name });
      const told = channel.points.map(({ thdPercent }) => thdPercent).filter((thd) => thd > 1e-6);
      expect(told).toEqual(told.toSorted((a, b) => a - b));
    }
  });
});
