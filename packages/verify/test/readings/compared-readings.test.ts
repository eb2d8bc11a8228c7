import { describe, expect, it } from 'vitest';
import { comparedRounds } from '../../src/index.ts';
import { jobOn, monoBoard } from '../stages.ts';

/** 12 V over 1 MΩ and 2 MΩ; 10 kΩ at the input. */
const board = monoBoard(
  `
  R1: { kind: resistor, value: 1 MΩ, between: [vcc, v] }
  R2: { kind: resistor, value: 2 MΩ, between: [v, w] }
  R4: { kind: resistor, value: 100 kΩ, between: [w, gnd] }
  R3: { kind: resistor, value: 10 kΩ, between: [in, out] }
  R5: { kind: resistor, value: 10 kΩ, between: [out, gnd] }
  C1: { kind: capacitor, build: aluminium, value: 1 µF, leakage: 50 kΩ, plus: x, minus: gnd }
  R6: { kind: resistor, value: 1 kΩ, between: [x, gnd] }
  C2: { kind: capacitor, build: aluminium, value: 1 µF, leakage: 50 kΩ, plus: y, minus: gnd }
  R7: { kind: resistor, value: 1 MΩ, between: [y, gnd] }`,
  'rails: { vcc: { volts: 12 V } }',
);

const parallel = (...ohms: number[]): number => 1 / ohms.reduce((sum, each) => sum + 1 / each, 0);

describe('readings beside what is computed for them', () => {
  const [found, rebuilt] = comparedRounds(
    jobOn(
      board,
      'R1: { pulled: { value: 1.5 MΩ }, fit: { value: 1 MΩ } }',
      `readings:
  - { state: found, meter: { resistance: 10 MΩ, accuracy: 1 % }, volts: { v: 7 V, v-w: 6 V }, ohms: { out-gnd: 10 kΩ, x-gnd: 1 kΩ, y-gnd: 50 kΩ } }
  - { state: rebuilt, meter: { sensitivity: 20 kΩ/V, range: 10 V, accuracy: 3 % }, volts: { v: 2 V } }
  - { state: rebuilt, volts: { v: 8 V } }`,
    ),
  );
  // Closed forms of a divider with the meter across its lower part; 1e-9 is what the node's rounding and gmin leave.
  it('solves the state that was read with the meter between the leads', () => {
    const lower = parallel(2.1e6, 10e6);
    expect(found?.readings[0]).toMatchObject({ name: 'v', unit: 'V', read: 7 });
    expect(found?.readings[0]?.predicted).toBeCloseTo((12 * lower) / (1.5e6 + lower), 6);
    const upper = parallel(2e6, 10e6);
    expect(found?.readings[1]?.predicted).toBeCloseTo((12 * upper) / (1.5e6 + upper + 1e5), 6);
    const pointer = parallel(2.1e6, 200e3);
    expect(rebuilt?.readings[0]?.predicted).toBeCloseTo((12 * pointer) / (1e6 + pointer), 6);
  });

  it('takes a reading without a meter as one that draws nothing', () => {
    const third = comparedRounds(jobOn(board, 'R1: { why: left }', 'readings: [{ state: found, volts: { v: 8 V } }]'));
    expect(third[0]?.readings[0]?.predicted).toBeCloseTo((12 * 2.1) / 3.1, 6);
  });

  it('computes a cold resistance, unless it is that of an electrolytic', () => {
    const [, , plain, beside, through] = found!.readings;
    expect(plain).toMatchObject({ name: 'out-gnd', unit: 'Ω', read: 10e3 });
    // The board's own leakage of 100 GΩ takes 1e-7 of it.
    expect(plain!.predicted! / 10e3).toBeCloseTo(1, 6);
    expect(beside!.predicted! / parallel(1e3, 50e3)).toBeCloseTo(1, 6);
    expect(through!.predicted).toBeNull();
  });
});
