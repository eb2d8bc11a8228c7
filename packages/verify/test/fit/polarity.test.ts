import { describe, expect, it } from 'vitest';
import { boardWith, fittedRows, rowOf, rowsOf } from './fit-boards.ts';

/** A source of some volts behind 1 kΩ, and a capacitor from there to gnd. */
const across = (volts: string, capacitor: string): ReturnType<typeof boardWith> =>
  boardWith(
    `R9: { kind: resistor, value: 1 kΩ, between: [vx, a] }\nC9: { kind: capacitor, value: 1 µF, rated: 63 V, ${capacitor} }`,
    `rails: { vx: { volts: ${volts} } }`,
  );
const plusAtA = 'plus: a, minus: gnd';

describe('polarity', () => {
  it.each([
    ['aluminium', '-0.1 V', 'good'],
    ['aluminium', '-0.101 V', 'fail'],
    ['tantalum', '-0.1 V', 'good'],
    ['tantalum', '-0.101 V', 'fail'],
    ['aluminium', '12 V', 'good'],
    ['film', '-12 V', undefined],
    ['polystyrene', '-12 V', undefined],
    ['ceramic1', '-12 V', undefined],
    ['mica', '-12 V', undefined],
    ['aluminium_bipolar', '-12 V', undefined],
  ])('of a steady %s at %s is %s', (build, volts, level) => {
    const rows = rowsOf(across(volts, `build: ${build}, ${plusAtA}`).circuit);
    expect(rowOf(rows, 'C9', 'polarity', 'steady')?.level).toBe(level);
  });

  it('is that of the leads where a file states no build', () => {
    const level = (leads: string): string | undefined =>
      rowOf(rowsOf(across('-12 V', leads).circuit), 'C9', 'polarity', 'steady')?.level;
    expect(level(plusAtA)).toBe('fail');
    expect(level('between: [a, gnd]')).toBeUndefined();
  });

  /** From the rail a coupling capacitor lifts the minus lead of C9 for a moment; a diode's worth of 100 kΩ lets it down again. */
  const lifted = (rail: string, build: string): ReturnType<typeof rowOf> =>
    rowOf(
      rowsOf(
        boardWith(
          `C8: { kind: capacitor, build: film, value: 10 µF, rated: 100 V, between: [vx, a] }
          R9: { kind: resistor, value: 1 MΩ, between: [a, gnd] }
          C9: { kind: capacitor, build: ${build}, value: 10 nF, rated: 63 V, plus: gnd, minus: a }`,
          `rails: { vx: { volts: ${rail} } }`,
        ).circuit,
      ),
      'C9',
      'polarity',
      'on the way up',
    );

  it.each([
    // 10 µF into 10 nF and 1 MΩ: within 4 % of the rail at the end of 0.3 s.
    ['aluminium', '1 V', 'good'],
    ['aluminium', '1.05 V', 'look'],
    ['tantalum', '0.5 V', 'good'],
    ['tantalum', '0.53 V', 'fail'],
  ])('on the way up of %s against %s is %s', (build, rail, level) => {
    expect(lifted(rail, build)?.level).toBe(level);
  });

  it('fails where a job puts a polarised part in the wrong way, and not for a film part', () => {
    const board = across('12 V', `build: aluminium, ${plusAtA}`);
    const wrong = fittedRows(board, 'C9: { fit: { build: aluminium, rated: 63 V, reversed: true } }');
    expect(rowOf(wrong, 'C9', 'polarity', 'steady')).toMatchObject({
      level: 'fail',
      value: -12,
      next: 'turn C9 round',
    });
    const film = fittedRows(board, 'C9: { fit: { build: film, rated: 63 V } }');
    expect(film.filter(({ what }) => what === 'polarity')).toEqual([]);
  });

  it('is told where a polarised part goes into a place without one', () => {
    const board = across('-12 V', 'build: film, between: [a, gnd]');
    const rows = fittedRows(board, 'C9: { fit: { build: aluminium, rated: 63 V } }');
    const row = rowOf(rows, 'C9', 'polarity', 'steady');
    expect(row).toMatchObject({ level: 'look', value: 12 });
    expect(row?.next).toContain('plus goes to gnd, minus to a');
  });
});

describe('the band of a diode', () => {
  const diodes = (parts: string): ReturnType<typeof boardWith> =>
    boardWith(
      `R9: { kind: resistor, value: 1 kΩ, between: [vcc, a] }\n${parts}`,
      `rails: { vcc: { volts: 20 V } }
types: { DX: { kind: diode, VF: { value: 0.6 V, at: 1 mA } }, ZX: { kind: zener, VZ: { value: 5 V, at: 5 mA } } }`,
    );

  it.each([
    ['a diode', 'D9: { type: DX, anode: a, cathode: gnd }', 'D9: { fit: { type: DX } }', 'good'],
    ['a diode turned', 'D9: { type: DX, anode: a, cathode: gnd }', 'D9: { fit: { type: DX, reversed: true } }', 'fail'],
    ['a zener', 'D9: { type: ZX, anode: gnd, cathode: a }', 'D9: { fit: { type: ZX } }', 'good'],
    ['a zener turned', 'D9: { type: ZX, anode: gnd, cathode: a }', 'D9: { fit: { type: ZX, reversed: true } }', 'fail'],
    ['one put back turned', 'D9: { type: DX, anode: a, cathode: gnd }', 'D9: { reversed: true }', 'fail'],
  ])('of %s', (_, drawn, job, level) => {
    expect(rowOf(fittedRows(diodes(drawn), job), 'D9', 'polarity', 'band')?.level).toBe(level);
  });

  it('is asked of each member of a string', () => {
    const board = diodes('D9: { type: DX, anode: a, cathode: gnd }');
    const rows = fittedRows(board, 'D9: { fit: [{ type: DX }, { type: DX, reversed: true }] }');
    expect(rowOf(rows, 'D9.2', 'polarity', 'band')?.level).toBe('fail');
  });
});
