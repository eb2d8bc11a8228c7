import { describe, expect, it } from 'vitest';
import { humAnswer } from '../src/index.ts';
import { monoBoard, stageOf, stereoBoard } from './stages.ts';

/** From the supply through 1 kΩ into 100 µF and a load of 1 kΩ: V over V at a frequency. */
function filter(hz: number, farads = 100e-6): number {
  return 1 / Math.hypot(2, 2 * Math.PI * hz * 1e3 * farads);
}

const parts = `
  R1: { kind: resistor, value: 990 Ω, between: [vcc, v] }
  C1: { kind: capacitor, value: 100 µF, plus: v, minus: gnd }
  R2: { kind: resistor, value: 1 kΩ, between: [v, gnd] }
  R3: { kind: resistor, value: 1 MΩ, between: [v, m] }
  R4: { kind: resistor, value: 100 kΩ, between: [m, out] }
  R5: { kind: resistor, value: 50 kΩ, between: [in, m] }
  U1: { type: OA, plus: gnd, minus: m, out: out }`;
const types = 'types: { OA: { kind: opamp } }\ncommon: [v]';
const ripple = 'ripple: 20 mV, ripple_frequency: 120 Hz, harmonics: [0.25, 0.1]';
/** The 1 MΩ into the virtual earth hangs on the filter's node, 1e-3 of the load's current. */
const loaded = 1e-3;

describe('humAnswer', () => {
  const board = monoBoard(parts, `rails: { vcc: { volts: 20 V, resistance: 10 Ω, ${ripple} } }\n${types}`);
  const answer = humAnswer(stageOf(board.circuit));
  const [rail] = answer.rails;

  it('gives the transfer from the supply to the output over frequency, the ripple and its harmonics among it', () => {
    const points = rail!.channels[0]!.points;
    expect(points.map(({ hz }) => hz)).toEqual(expect.arrayContaining([20, 120, 240, 360, 1000, 20_000]));
    for (const { hz, db } of points) {
      // A tenth: from the filter's node through 1 MΩ with 100 kΩ of feedback.
      const closedForm = 20 * Math.log10(filter(hz) / 10);
      expect(Math.abs(db! - closedForm)).toBeLessThan(20 * Math.log10(1 + loaded));
    }
  });

  it('adds the fundamental and its harmonics as rms', () => {
    const lines = [20e-3 * filter(120), 5e-3 * filter(240), 2e-3 * filter(360)].map((volts) => volts / 10);
    expect(Math.abs(rail!.channels[0]!.outputMv! / (1e3 * Math.hypot(...lines)) - 1)).toBeLessThan(loaded);
    expect(answer.channels[0]!.outputMv).toBe(rail!.channels[0]!.outputMv);
  });

  it('holds the hum against a programme of 5 mV at the input', () => {
    // A gain of two makes 10 mV of it.
    const expected = 20 * Math.log10(answer.channels[0]!.outputMv! / 10);
    expect(answer.channels[0]!.humDb).toBeCloseTo(expected, 9);
    expect(answer.reference).toBe('5 mV rms at 1 kHz at the input');
  });

  it('says how much each shared capacitor holds back at the ripple frequency', () => {
    const expected = 20 * Math.log10(filter(120, 0) / filter(120));
    const [decoupler] = rail!.decouplers;
    expect(decoupler).toMatchObject({ ref: 'C1', hz: 120 });
    expect(Math.abs(decoupler!.channels[0]!.db! - expected)).toBeLessThan(20 * Math.log10(1 + loaded));
  });

  it('says what it leaves out', () => {
    expect(answer.leftOut).toContain('not modelled');
    expect(answer.source).toBe('shorted');
  });
});

describe('rails', () => {
  const two = (vee: string): ReturnType<typeof humAnswer> =>
    humAnswer(
      stageOf(
        monoBoard(
          `${parts}\n  R6: { kind: resistor, value: 1 MΩ, between: [vee, m] }`,
          `rails: { vcc: { volts: 20 V, resistance: 10 Ω, ${ripple} }, vee: { volts: -5 V${vee} } }\n${types}`,
        ).circuit,
      ),
    );

  it('add up as if they were not in step', () => {
    const answer = two(', ripple: 3 mV, ripple_frequency: 100 Hz');
    // A tenth of the 3 mV.
    expect(answer.rails[1]!.channels[0]!.outputMv).toBeCloseTo(0.3, 9);
    const [vcc, vee] = answer.rails.map(({ channels }) => channels[0]!.outputMv!);
    expect(answer.channels[0]!.outputMv).toBeCloseTo(Math.hypot(vcc!, vee!), 12);
  });

  it('without a stated ripple give a transfer and no hum', () => {
    const answer = two('');
    expect(answer.rails[1]).toMatchObject({ rippleV: null, rippleHz: null });
    expect(answer.rails[1]!.channels[0]!.outputMv).toBeNull();
    expect(answer.rails[1]!.channels[0]!.points[0]!.db).toBeCloseTo(-20, 9);
    expect(answer.channels[0]!.outputMv).toBe(answer.rails[0]!.channels[0]!.outputMv);
  });

  it('are all silent about their ripple: no figure at all', () => {
    const board = monoBoard(parts, `rails: { vcc: { volts: 20 V } }\n${types}`);
    expect(humAnswer(stageOf(board.circuit)).channels[0]).toEqual({ name: 'mono', outputMv: null, humDb: null });
  });

  it('whose ripple does not reach the output give 0 mV and no level', () => {
    const board = stereoBoard(
      `R101/R102: { kind: resistor, value: 1 kΩ, between: [in, out] }
       R103: { kind: resistor, value: 1 kΩ, between: [vcc, gnd] }`,
      `rails: { vcc: { volts: 20 V, ${ripple} } }`,
    );
    const answer = humAnswer(stageOf(board.circuit));
    expect(answer.channels[1]).toEqual({ name: 'right', outputMv: 0, humDb: null });
    expect(answer.rails[0]!.channels[1]!.points.every(({ db }) => db === null)).toBe(true);
  });
});
