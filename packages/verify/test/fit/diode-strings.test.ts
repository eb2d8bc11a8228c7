import { describe, expect, it } from 'vitest';
import { atOnce } from '../../src/index.ts';
import { stringSteps } from '../../src/fit/diode-strings.ts';
import { boardWith } from './fit-boards.ts';
import { stageOf } from '../stages.ts';

const types = `DB: { kind: diode, VF: [{ value: 1.2 V, at: 1 mA }, { value: 1.35 V, at: 10 mA }] }
  DS: { kind: diode, VF: [{ value: 0.63 V, at: 1 mA }, { value: 0.74 V, at: 10 mA }] }
  DX: { kind: diode, VF: { value: 0.3 V, at: 1 mA } }`;

/** A bias diode at about 1 mA that lifts an emitter. */
const board = boardWith(
  `R9: { kind: resistor, value: 18.8 kΩ, between: [vcc, vq] }
  D9: { type: DB, anode: vq, cathode: gnd }`,
  `rails: { vcc: { volts: 20 V } }\ntypes:\n  ${types}`,
);

const [answer] = atOnce(stringSteps(stageOf(board.circuit), board.types, new Set(['D9'])));

describe('a string of diodes', () => {
  it('of two small-signal diodes serves for a bias diode of twice the drop', () => {
    // Common practice, no source.
    const string = answer!.strings.find(({ type }) => type === 'DS')!;
    expect(string.count).toBe(2);
    // 2 × 0.63 V against 1.2 V at 1 mA.
    expect(string.errorV).toBeCloseTo(0.06, 2);
    expect(string.dropV).toBeCloseTo(answer!.wantedV + string.errorV, 12);
  });

  it('is told at the current that it itself takes', () => {
    for (const { type, amps, dropV } of answer!.strings) expect(amps * 18.8e3, type).toBeCloseTo(20 - dropV, 6);
    expect(answer!.amps * 18.8e3).toBeCloseTo(20 - answer!.wantedV, 6);
  });

  it('is one for each type, the nearest first: the drawn one by itself', () => {
    expect(answer!.strings.map(({ type, count }) => `${count} × ${type}`)).toEqual(['1 × DB', '4 × DX', '2 × DS']);
    // A bias solved anew from the same circuit.
    expect(answer!.strings[0]!.errorV).toBeCloseTo(0, 9);
  });

  it('drifts as all its junctions together', () => {
    const drift = (type: string): number => answer!.strings.find((each) => each.type === type)!.driftVPerK!;
    // A silicon junction falls by about 2 mV/K (common practice, no source), and each of a string by itself.
    expect(drift('DS')).toBeLessThan(-2 * 1e-3);
    expect(drift('DS')).toBeGreaterThan(-2 * 3e-3);
  });
});
