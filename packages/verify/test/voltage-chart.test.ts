import { describe, expect, it } from 'vitest';
import { voltageChart, type PartBias } from '../src/index.ts';
import { monoBoard, stageOf, stereoBoard } from './stages.ts';

const rails = 'rails: { vcc: { volts: 12 V, resistance: 10 Ω } }';

const divider = monoBoard(
  `
  R1: { kind: resistor, value: 1 MΩ, between: [vcc, v] }
  R2: { kind: resistor, value: 2 MΩ, between: [v, gnd] }
  R3: { kind: resistor, value: 10 kΩ, between: [in, out] }
  C1: { kind: capacitor, value: 1 µF, leakage: 4 MΩ, plus: v, minus: gnd }`,
  rails,
);

/** The entry of a part; throws on one without. */
function bias<K extends string>(parts: readonly PartBias[], ref: string, key: K): PartBias & Record<K, number> {
  const entry = parts.find((part) => part.ref === ref);
  if (entry === undefined || !(key in entry)) throw new Error(`${ref} has no ${key}`);
  return entry as PartBias & Record<K, number>;
}

describe('voltageChart', () => {
  it('shows what a meter makes of a divider that it loads', () => {
    const chart = voltageChart(stageOf(divider.circuit), 10e6);
    const node = chart.channels[0]!.nodes.find((each) => each.node === 'v')!;
    const parallel = (...ohms: number[]): number => 1 / ohms.reduce((sum, each) => sum + 1 / each, 0);
    const volts = (lower: number): number => (12 * lower) / (10 + 1e6 + lower);
    expect(chart.meterOhms).toBe(10e6);
    // Closed form of a divider of 1 MΩ over 2 MΩ ∥ 4 MΩ of leakage, without and with the 10 MΩ of the meter.
    expect(node.volts).toBeCloseTo(volts(parallel(2e6, 4e6)), 11);
    expect(node.meterVolts!).toBeCloseTo(volts(parallel(2e6, 4e6, 10e6)), 11);
  });

  it('tends to the true voltage for a meter that draws nothing', () => {
    const { nodes } = voltageChart(stageOf(divider.circuit), 1e15).channels[0]!;
    for (const { volts, meterVolts } of nodes) expect(meterVolts!).toBeCloseTo(volts, 7);
  });

  it("gives volts, amps and power of two-lead parts, a capacitor's leakage among them", () => {
    const { parts } = voltageChart(stageOf(divider.circuit), 10e6).channels[0]!;
    const v = bias(parts, 'R2', 'volts').volts;
    expect(bias(parts, 'R2', 'amps').amps).toBeCloseTo(v / 2e6, 15);
    expect(bias(parts, 'R2', 'powerW').powerW).toBeCloseTo(v ** 2 / 2e6, 14);
    expect(bias(parts, 'C1', 'amps').amps).toBeCloseTo(v / 4e6, 15);
    // First lead minus second, as the file writes them: R1 from the rail down.
    expect(bias(parts, 'R1', 'volts').volts).toBeCloseTo(12 - (12 * 10) / (10 + 1e6 + 4e6 / 3) - v, 9);
  });

  it('gives each rail what all that hangs on it draws', () => {
    const board = stereoBoard(
      `
      R101/R102: { kind: resistor, value: 1 kΩ, between: [vcc, out] }
      R103/R104: { kind: resistor, value: 2 kΩ, between: [out, gnd] }
      R105: { kind: resistor, value: 3 kΩ, between: [vcc, vee] }
      R107/R108: { kind: resistor, value: 10 kΩ, between: [in, out] }`,
      'rails: { vcc: { volts: 12 V, resistance: 10 Ω }, vee: { volts: -5 V } }',
    );
    const chart = voltageChart(stageOf(board.circuit), 10e6);
    const all = chart.channels.flatMap(({ parts }) => parts);
    const drawn = bias(all, 'R101', 'amps').amps + bias(all, 'R102', 'amps').amps + bias(all, 'R105', 'amps').amps;
    const [vcc, vee] = chart.rails;
    expect(vcc!.amps).toBeCloseTo(drawn, 15);
    expect(vcc!.volts).toBeCloseTo(12 - 10 * drawn, 12);
    expect(vee!.amps).toBeCloseTo(-bias(all, 'R105', 'amps').amps, 15);
    // A part of both channels stands in each list.
    for (const { parts } of chart.channels) expect(parts.map(({ ref }) => ref)).toContain('R105');
  });

  it('gives the three terminal figures of a transistor, and a power that is what the parts around it do not take', () => {
    const board = monoBoard(
      `
      R1: { kind: resistor, value: 430 kΩ, between: [vcc, b] }
      R2: { kind: resistor, value: 2 kΩ, between: [vcc, c] }
      R3: { kind: resistor, value: 470 Ω, between: [e, gnd] }
      R4: { kind: resistor, value: 10 kΩ, between: [in, out] }
      C1: { kind: capacitor, value: 1 µF, between: [in, b] }
      Q1: { type: HN, collector: c, base: b, emitter: e }`,
      `${rails}\ntypes: { HN: { kind: npn, hFE: 200, VBE: { value: 600 mV, at: 1 mA } } }`,
    );
    const chart = voltageChart(stageOf(board.circuit), 10e6);
    const { parts } = chart.channels[0]!;
    const q = bias(parts, 'Q1', 'icA') as Record<'icA' | 'ibA' | 'vceV' | 'vbeV' | 'powerW', number>;
    expect(q.icA / q.ibA).toBeCloseTo(200, 6);
    expect(q.vbeV).toBeGreaterThan(0.6);
    expect(q.ibA).toBeCloseTo(bias(parts, 'R1', 'amps').amps, 14);
    const inResistors = ['R1', 'R2', 'R3'].reduce((sum, ref) => sum + bias(parts, ref, 'powerW').powerW, 0);
    const { volts, amps } = chart.rails[0]!;
    // The board takes what the rail's node delivers; nothing is lost.
    expect(q.powerW + inResistors).toBeCloseTo(volts * amps, 12);
  });

  it('says whether an op-amp stands at its limit', () => {
    const amplifier = (lower: string): ReturnType<typeof voltageChart> =>
      voltageChart(
        stageOf(
          monoBoard(
            `
            R0: { kind: resistor, value: 10 kΩ, between: [in, gnd] }
            R1: { kind: resistor, value: 10 kΩ, between: [vcc, p] }
            R2: { kind: resistor, value: ${lower}, between: [p, gnd] }
            U1: { type: OA, plus: p, minus: m, out: out, rails: [vcc, vee] }
            R3: { kind: resistor, value: 10 kΩ, between: [out, m] }
            R4: { kind: resistor, value: 1 kΩ, between: [m, gnd] }`,
            `rails: { vcc: { volts: 12 V }, vee: { volts: -12 V } }
types: { OA: { kind: opamp, gain: 100 dB, swing: { above: 1.5 V, below: 1.5 V } } }`,
          ).circuit,
        ),
        10e6,
      );
    const state = (chart: ReturnType<typeof voltageChart>): unknown =>
      chart.channels[0]!.parts.find(({ ref }) => ref === 'U1');
    // 11 × 0.5 V against 11 × 2 V, which would be over the rail less 1.5 V.
    expect(state(amplifier('435 Ω'))).toMatchObject({ limited: false });
    expect(state(amplifier('2 kΩ'))).toMatchObject({ limited: true });
    const { outV } = state(amplifier('2 kΩ')) as { outV: number };
    expect(outV).toBeCloseTo(10.5, 2);
  });
});
