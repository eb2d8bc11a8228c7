import type { Circuit, Part } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { coldResistances } from '../src/index.ts';

const place = { file: 'test', line: 1, column: 1 };
const common = { channel: null, place };

function resistor(ref: string, ohms: number, between: readonly [string, string]): Part {
  return { kind: 'resistor', ref, position: ref, ...common, ohms, between };
}

function circuit(...parts: readonly Part[]): Circuit {
  return { title: 'invented', channels: [], rails: [], common: [], parts, ambient: 298.15 };
}

describe('a board without power', () => {
  it('is its resistors: one beside two in series', () => {
    const board = circuit(
      resistor('R1', 1000, ['a', 'gnd']),
      resistor('R2', 2000, ['a', 'b']),
      resistor('R3', 3000, ['b', 'gnd']),
    );
    const [found] = coldResistances(board, [['a', 'gnd']]);
    // 1 kΩ ∥ 5 kΩ; the board's own leak of 10⁻¹¹ S takes 10⁻⁸ of it.
    expect(found!.ohms).toBeCloseTo(5000 / 6, 4);
    // i² R shares: 25/36 · 1000, 1/36 · 2000, 1/36 · 3000 over 5000/6.
    expect(found!.shares.get('R1')).toBeCloseTo(5 / 6, 6);
    expect(found!.shares.get('R2')).toBeCloseTo(1 / 15, 6);
    expect(found!.shares.get('R3')).toBeCloseTo(1 / 10, 6);
  });

  it('takes capacitors by their leakage, and junctions for nothing', () => {
    const board = circuit(
      resistor('R1', 10e3, ['a', 'b']),
      {
        kind: 'capacitor',
        ref: 'C1',
        position: 'C1',
        ...common,
        farads: 1e-6,
        plus: 'b',
        minus: 'gnd',
        polarised: true,
        leakage: 90e3,
      },
      {
        kind: 'typed',
        ref: 'D1',
        position: 'D1',
        ...common,
        typeName: 'D',
        type: { kind: 'diode', VF: [{ value: 0.6, at: 1e-3 }] },
        leads: { anode: 'a', cathode: 'gnd' },
      },
    );
    expect(coldResistances(board, [['a', 'gnd']])[0]!.ohms).toBeCloseTo(100e3, 0);
  });

  it('finds the channel of a field-effect transistor: VGS(off)/(2·IDSS) of the square law', () => {
    const board = circuit({
      kind: 'typed',
      ref: 'J1',
      position: 'J1',
      ...common,
      typeName: 'J',
      type: { kind: 'jfet-n', IDSS: 5e-3, pinchOff: 2 },
      leads: { drain: 'a', gate: 'g', source: 'gnd' },
    });
    expect(coldResistances(board, [['a', 'gnd']])[0]!.ohms).toBeCloseTo(200, 3);
  });

  it('reads open between nodes that nothing joins', () => {
    const board = circuit(resistor('R1', 1000, ['a', 'gnd']), resistor('R2', 1000, ['b', 'c']));
    expect(coldResistances(board, [['a', 'b']])[0]!.ohms).toBeGreaterThan(1e10);
    expect(coldResistances(board, [['a', 'nowhere']])[0]!.ohms).toBeGreaterThan(1e10);
  });
});
