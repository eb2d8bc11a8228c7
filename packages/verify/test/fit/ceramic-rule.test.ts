import { describe, expect, it } from 'vitest';
import { monoBoard } from '../stages.ts';
import { rowOf, rowsOf } from './fit-boards.ts';

/** An input behind 1 kΩ, coupled out by C8; C9 stands where it is said to, d being a supply behind 1 kΩ that feeds nothing. */
const row = (
  ref: string,
  builds: { c8?: string; c9: string },
  between: string,
  value = '1 µF',
): ReturnType<typeof rowOf> => {
  const board = monoBoard(
    `R1: { kind: resistor, value: 1 kΩ, between: [in, q] }
    C8: { kind: capacitor, build: ${builds.c8 ?? 'film'}, value: 4.7 µF, rated: 50 V, between: [q, out] }
    R2: { kind: resistor, value: 100 kΩ, between: [out, gnd] }
    R3: { kind: resistor, value: 100 kΩ, between: [q, gnd] }
    R7: { kind: resistor, value: 1 kΩ, between: [vcc, d] }
    R8: { kind: resistor, value: 10 kΩ, between: [d, gnd] }
    C9: { kind: capacitor, build: ${builds.c9}, value: ${value}, rated: 50 V, between: ${between} }`,
    'rails: { vcc: { volts: 20 V } }',
  );
  return rowOf(rowsOf(board.circuit), ref, 'ceramic');
};

describe('a class 2 ceramic', () => {
  it.each(['10 nF', '10 pF'])('is worth a look where the signal is across its %s', (value) => {
    expect(row('C9', { c9: 'ceramic2' }, '[q, gnd]', value)).toMatchObject({
      level: 'look',
      where: 'in the signal path',
    });
    for (const build of ['ceramic1', 'film', 'aluminium_bipolar'])
      expect(row('C9', { c9: build }, '[q, gnd]', value), build).toBeUndefined();
  });

  it('is worth a look where it couples, though its corner lies far below the band', () => {
    // 4.7 µF into 100 kΩ: 0.34 Hz.
    expect(row('C8', { c8: 'ceramic2', c9: 'film' }, '[d, gnd]')?.level).toBe('look');
  });

  it('is none of the kind where it only decouples', () => {
    expect(row('C9', { c9: 'ceramic2' }, '[d, gnd]')).toBeUndefined();
  });

  it('tells the voltage that takes its value away', () => {
    const board = monoBoard(
      `R1: { kind: resistor, value: 1 kΩ, between: [in, out] }
      R2: { kind: resistor, value: 100 kΩ, between: [out, gnd] }
      C9: { kind: capacitor, build: ceramic2, value: 1 µF, rated: 50 V, between: [vcc, out] }`,
      'rails: { vcc: { volts: 20 V } }',
    );
    expect(rowOf(rowsOf(board.circuit), 'C9', 'ceramic')).toMatchObject({ value: 20, margin: -20, unit: 'V' });
  });
});
