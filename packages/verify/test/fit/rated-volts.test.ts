import { describe, expect, it } from 'vitest';
import { boardWith, fittedRows, rowOf, rowsOf } from './fit-boards.ts';

const volts = (parts: string, more?: string, ref = 'C9'): ReturnType<typeof rowOf> =>
  rowOf(rowsOf(boardWith(parts, more).circuit), ref, 'rating', 'volts');

/** A capacitor of a build and a rating straight across the 20 V rail, behind `ohms`. */
const acrossRail = (build: string, rated: string, ohms = 0): string => `
  R9: { kind: resistor, value: ${ohms} Ω, between: [vcc, a] }
  C9: { kind: capacitor, build: ${build}, value: 10 µF, rated: ${rated}, plus: a, minus: gnd }`;

// Common practice, no source: the factors that the limits state as defaults.
const boundaries: readonly (readonly [what: string, build: string, ohms: number, enough: string, short: string])[] = [
  ['1.25 times the steady volts of an aluminium', 'aluminium', 1000, '25 V', '24.9 V'],
  ['1.25 times those of a bipolar one', 'aluminium_bipolar', 1000, '25 V', '24.9 V'],
  // 3 Ω per volt of 20 V are 60 Ω.
  ['twice those of a tantalum behind 60 Ω', 'tantalum', 60, '40 V', '39.9 V'],
  ['three times those of a tantalum behind 59.9 Ω', 'tantalum', 59.9, '60 V', '59.9 V'],
  ['three times those of a tantalum on the rail', 'tantalum', 0, '60 V', '59.9 V'],
  ['once those of a film', 'film', 1000, '20 V', '19.9 V'],
  ['once those of a polystyrene', 'polystyrene', 1000, '20 V', '19.9 V'],
  ['once those of a mica', 'mica', 1000, '20 V', '19.9 V'],
  ['once those of a class 1 ceramic', 'ceramic1', 1000, '20 V', '19.9 V'],
  ['once those of a class 2 ceramic', 'ceramic2', 1000, '20 V', '19.9 V'],
];

describe('rated volts', () => {
  it.each(boundaries)('are at least %s, and not a step more', (_, build, ohms, enough, short) => {
    expect(volts(acrossRail(build, enough, ohms))).toMatchObject({ level: 'good', unit: 'V' });
    const row = volts(acrossRail(build, short, ohms));
    expect(row?.level).toBe('fail');
    // The table's steps are tenths of a volt.
    expect(row?.margin).toBeCloseTo(-0.1, 6);
  });

  it('cover what a capacitor sees on the way up', () => {
    // 10 µF against 10 nF from the rail to gnd: the small one takes 20 V × 10/10.01 at first, and nothing once 1 MΩ has discharged it.
    const coupled = (rated: string): string => `
      C8: { kind: capacitor, build: film, value: 10 µF, rated: 100 V, between: [vcc, a] }
      C9: { kind: capacitor, build: film, value: 10 nF, rated: ${rated}, between: [a, gnd] }
      R9: { kind: resistor, value: 1 MΩ, between: [a, gnd] }`;
    const row = volts(coupled('25 V'));
    expect(row?.level).toBe('good');
    expect(row?.cause).toContain('on the way up');
    // The rail rises in 0.3 s, in which 10 s lose under 2 % of it.
    expect(row!.value).toBeGreaterThan(19.5);
    expect(row!.value).toBeLessThan(20);
    expect(volts(coupled('19.4 V'))?.level).toBe('fail');
  });

  const pulledUp = (rated: string, holder: string, leakage = ', leakage: 1 MΩ'): string => `
    R9: { kind: resistor, value: 10 kΩ, between: [vcc, a] }
    ${holder}
    C9: { kind: capacitor, build: aluminium, value: 1 µF, rated: ${rated}, plus: a, minus: b${leakage} }
    R8: { kind: resistor, value: 100 kΩ, between: [b, gnd] }`;
  const diode = 'D9: { type: DX, anode: a, cathode: gnd }';
  const more = `rails: { vcc: { volts: 20 V } }
types: { DX: { kind: diode, VF: { value: 0.6 V, at: 1 mA } } }`;

  it('bear the rail where resistors alone lead to it and an active part holds it down', () => {
    const enough = volts(pulledUp('20 V', diode), more);
    expect(enough?.level).toBe('good');
    expect(enough?.cause).toContain('the active parts are out');
    expect(volts(pulledUp('19.9 V', diode), more)?.level).toBe('fail');
  });

  it('need not where resistors hold the voltage down by themselves', () => {
    // A divider of 10 kΩ and 1 kΩ: 1.82 V, of which an aluminium is to bear 1.25 times.
    const divided = (rated: string): ReturnType<typeof volts> =>
      volts(pulledUp(rated, 'R7: { kind: resistor, value: 1 kΩ, between: [a, gnd] }', ''), more);
    expect(divided('2.28 V')?.level).toBe('good');
    expect(divided('2.26 V')?.level).toBe('fail');
  });

  it('need not where both leads hang on the same rail', () => {
    const row = volts(
      `R9: { kind: resistor, value: 1 kΩ, between: [vcc, a] }
      C9: { kind: capacitor, build: aluminium, value: 1 µF, rated: 4 V, plus: vcc, minus: a }`,
    );
    expect(row?.level).toBe('good');
  });

  it('only tell, and do not judge, what a shorted transistor would put across', () => {
    // The emitter follower stands at 10 V less a junction; shorted, at the whole rail.
    const follower = `
      R8: { kind: resistor, value: 10 kΩ, between: [vcc, b] }
      R9: { kind: resistor, value: 10 kΩ, between: [b, gnd] }
      Q9: { type: QX, collector: vcc, base: b, emitter: e }
      R7: { kind: resistor, value: 10 kΩ, between: [e, gnd] }
      C9: { kind: capacitor, build: aluminium, value: 1 µF, rated: 16 V, plus: e, minus: gnd }`;
    const row = volts(
      follower,
      'rails: { vcc: { volts: 20 V } }\ntypes: { QX: { kind: npn, hFE: 300, VBE: { value: 0.6 V, at: 1 mA } } }',
    );
    expect(row?.level).toBe('good');
    expect(row?.cause).toMatch(/should Q9 short from collector to emitter, it would see 20 V \(a note, not judged\)/);
  });

  it('are asked for of a fitted part, and of no drawn one', () => {
    const drawn = 'C9: { kind: capacitor, build: film, value: 10 µF, between: [vcc, gnd] }';
    expect(volts(drawn)).toBeUndefined();
    const board = boardWith(drawn);
    const unrated = rowOf(fittedRows(board, 'C9: { fit: { build: film } }'), 'C9', 'rating', 'volts');
    expect(unrated).toMatchObject({ level: 'not measured', value: 20, margin: NaN });
    expect(unrated?.next).toContain('rated: 25 V');
    const left = rowOf(fittedRows(board, 'C9: { pulled: { value: 9 µF } }'), 'C9', 'rating', 'volts');
    expect(left).toBeUndefined();
    const rated = rowOf(fittedRows(board, 'C9: { fit: { build: film, rated: 20 V } }'), 'C9', 'rating', 'volts');
    expect(rated?.level).toBe('good');
  });

  it('are asked for of an added part, too', () => {
    const rows = fittedRows(
      boardWith(''),
      'R1: { why: left in }',
      'added: { C9: { kind: capacitor, value: 1 µF, between: [vcc, gnd] } }',
    );
    expect(rowOf(rows, 'C9', 'rating', 'volts')?.level).toBe('not measured');
  });

  it('follow the factors that a job states', () => {
    const board = boardWith(acrossRail('aluminium', '25 V', 1000));
    const rows = fittedRows(
      board,
      'C9: { fit: { build: aluminium, rated: 25 V } }',
      'limits: { ratings: { aluminium: 1.3 } }',
    );
    expect(rowOf(rows, 'C9', 'rating', 'volts')?.level).toBe('fail');
  });
});

describe('the feedback leg', () => {
  it('is served by 22 µF for 6.3 V', () => {
    // Common practice, no source: a leg stands at a fraction of a volt, and no resistor leads the rail to it.
    const board = boardWith(
      `R4: { kind: resistor, value: 330 kΩ, between: [vcc, c] }
      R5: { kind: resistor, value: 100 kΩ, between: [vcc, b] }
      R6: { kind: resistor, value: 6.8 kΩ, between: [b, gnd] }
      Q1: { type: QX, collector: c, base: b, emitter: e }
      R7: { kind: resistor, value: 5.6 kΩ, between: [e, gnd] }
      R8: { kind: resistor, value: 470 Ω, between: [e, leg] }
      C9: { kind: capacitor, build: aluminium, value: 22 µF, rated: 16 V, plus: leg, minus: gnd }`,
      'rails: { vcc: { volts: 20 V } }\ntypes: { QX: { kind: npn, hFE: 300, VBE: { value: 0.6 V, at: 1 mA } } }',
    );
    const rows = fittedRows(board, 'C9: { fit: { build: aluminium, value: 22 µF, rated: 6.3 V } }');
    expect(rowOf(rows, 'C9', 'rating', 'volts')).toMatchObject({ level: 'good' });
    expect(rowOf(rows, 'C9', 'polarity', 'steady')).toMatchObject({ level: 'good' });
  });
});
