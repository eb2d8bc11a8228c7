import { describe, expect, it } from 'vitest';
import { boardWith, fittedRows, rowOf, rowsOf } from './fit-boards.ts';

/** A transistor that takes 1 mA: 10.6 V at the base, 10 V over 10 kΩ in the emitter; hFE makes its base current nothing. */
const stage = `
  R8: { kind: resistor, value: 9.4 kΩ, between: [vcc, b] }
  R9: { kind: resistor, value: 10.6 kΩ, between: [b, gnd] }
  Q9: { type: QX, collector: vcc, base: b, emitter: e }
  R7: { kind: resistor, value: 10 kΩ, between: [e, gnd] }`;

const npn = (ratings: string): string =>
  `rails: { vcc: { volts: 20 V } }
types: { QX: { kind: npn, hFE: 1e9, VBE: { value: 0.6 V, at: 1 mA }${ratings === '' ? '' : `, ${ratings}`} } }`;

const row = (ratings: string, where: string): ReturnType<typeof rowOf> =>
  rowOf(rowsOf(boardWith(stage, npn(ratings)).circuit), 'Q9', 'rating', where);

describe('ratings of a transistor', () => {
  it('VCEO bears the most that it sees', () => {
    const { value } = row('VCEO: 50 V', 'VCEO')!;
    // While the rail rises, the base follows it: 20 V × 9.4/20 and the junction at most.
    expect(value).toBeCloseTo(10, 1);
    expect(row(`VCEO: ${(value + 0.01).toFixed(3)} V`, 'VCEO')?.level).toBe('good');
    expect(row(`VCEO: ${(value - 0.01).toFixed(3)} V`, 'VCEO')?.level).toBe('fail');
  });

  it('IC bears the current at the bias', () => {
    // (10.6 V − VBE) over 10 kΩ with VBE 0.6 V at 1 mA.
    expect(row('IC: 1.001 mA', 'IC')?.level).toBe('good');
    expect(row('IC: 0.999 mA', 'IC')?.level).toBe('fail');
    expect(row('IC: 100 mA', 'IC')?.value).toBeCloseTo(1, 6);
  });

  it('Ptot bears the power, and is less when it is warm: down to nothing at 150 °C', () => {
    // 1 mA × 10 V; common practice, no source: straight down from 25 °C.
    expect(row('Ptot: 10.01 mW', 'Ptot')?.level).toBe('good');
    expect(row('Ptot: 9.99 mW', 'Ptot')?.level).toBe('fail');
    const board = boardWith(stage, npn('Ptot: 300 mW'));
    const warm = (celsius: number, more = ''): ReturnType<typeof rowOf> =>
      rowOf(fittedRows(board, 'R1: { why: left in }', `ambient: ${celsius} °C\n${more}`), 'Q9', 'rating', 'Ptot');
    // VBE falls 2 mV/K or so: the power rises by under 3 % at 87.5 °C, where half of Ptot is left.
    const half = warm(87.5)!;
    expect(half.margin + half.value).toBeCloseTo(150, 6);
    expect(warm(25)!.margin + warm(25)!.value).toBeCloseTo(300, 6);
    expect(warm(-10)!.margin + warm(-10)!.value).toBeCloseTo(300, 6);
    expect(warm(87.5, 'limits: { ratings: { junction: 175 °C } }')!.margin).toBeGreaterThan(half.margin);
  });

  /** The base pulled below the emitter by a divider from −10 V to +20 V; nothing breaks down where no VEBO is stated. */
  const reversed = (volts: number): string => `
    R8: { kind: resistor, value: 1 kΩ, between: [e, vcc] }
    R9: { kind: resistor, value: ${volts} kΩ, between: [e, b] }
    R6: { kind: resistor, value: ${20 - volts - 1} kΩ, between: [b, gnd] }
    R5: { kind: resistor, value: 10 kΩ, between: [vcc, c] }
    Q9: { type: QX, collector: c, base: b, emitter: e }`;

  it('VEBO bears the reverse voltage, and beyond it the part is spoilt', () => {
    // 1 mA through the divider: as many volts as kΩ; what leaks through the junctions is far below 1 nA.
    const at = (volts: number, vebo: string): ReturnType<typeof rowOf> =>
      rowOf(rowsOf(boardWith(reversed(volts), npn(vebo)).circuit), 'Q9', 'rating', 'VEBO');
    expect(at(5, 'VEBO: 5.01 V')?.level).toBe('good');
    const over = at(5, 'VEBO: 4.99 V');
    expect(over?.level).toBe('fail');
    expect(over?.next).toContain('discard the part, its noise and gain have suffered');
    expect(row('VEBO: 5 V', 'VEBO')).toMatchObject({ level: 'good', value: 0 });
  });

  it('are asked for of a fitted one: VEBO only where base and emitter are reversed', () => {
    const fitted = (parts: string, where: string): ReturnType<typeof rowOf> =>
      rowOf(fittedRows(boardWith(parts, npn('')), 'Q9: { fit: { type: QX } }'), 'Q9', 'rating', where);
    for (const where of ['VCEO', 'IC', 'Ptot']) expect(fitted(stage, where)?.level, where).toBe('not measured');
    expect(fitted(stage, 'VEBO')).toBeUndefined();
    expect(fitted(reversed(3), 'VEBO')?.level).toBe('not measured');
    for (const where of ['VCEO', 'IC', 'Ptot', 'VEBO']) expect(row('', where), where).toBeUndefined();
  });
});

describe('ratings of other semiconductors and valves', () => {
  const more = (types: string): string => `rails: { vcc: { volts: 20 V }, vee: { volts: -15 V } }\ntypes: { ${types} }`;
  const find = (parts: string, types: string, where: string): ReturnType<typeof rowOf> =>
    rowOf(rowsOf(boardWith(parts, more(types)).circuit), 'X9', 'rating', where);

  const forward = `R9: { kind: resistor, value: 19.4 kΩ, between: [vcc, a] }\nX9: { type: DX, anode: a, cathode: gnd }`;
  const backward = `R9: { kind: resistor, value: 1 kΩ, between: [vcc, a] }\nX9: { type: DX, anode: gnd, cathode: a }`;
  const diode = (ratings: string): string => `DX: { kind: diode, VF: { value: 0.6 V, at: 1 mA }, ${ratings} }`;
  const bare = 'R9: { kind: resistor, value: 1 kΩ, between: [vcc, a] }';
  const opamp = `X9: { type: OX, plus: in, minus: o, out: o, rails: [vcc, vee] }`;
  const jfet = `${bare}\nX9: { type: JX, drain: a, gate: gnd, source: s }\nR8: { kind: resistor, value: 1 kΩ, between: [s, gnd] }`;
  const triode = `${bare}\nX9: { type: VX, anode: a, grid: gnd, cathode: k }\nR8: { kind: resistor, value: 1 kΩ, between: [k, gnd] }`;

  it.each([
    ['forward current', forward, diode, 'IF', 'mA', 1.001, 0.999],
    // 1 mA × 0.6 V.
    ['power of a diode', forward, diode, 'Ptot', 'mW', 0.601, 0.599],
    ['reverse voltage', backward, diode, 'VR', 'V', 20.01, 19.99],
    ['volts between the supplies', opamp, (r: string) => `OX: { kind: opamp, ${r} }`, 'VS', 'V', 35.01, 34.99],
  ] as const)('%s', (_, parts, type, where, unit, enough, short) => {
    expect(find(parts, type(`${where}: ${enough} ${unit}`), where)?.level).toBe('good');
    expect(find(parts, type(`${where}: ${short} ${unit}`), where)?.level).toBe('fail');
  });

  it.each([
    ['JFET', jfet, 'JX: { kind: jfet-n, IDSS: 6 mA, VGS_off: -1 V', 'VDS'],
    ['valve', triode, 'VX: { kind: triode, mu: 100, rp: 62.5 kΩ, at: { Va: 250 V, Ia: 1.2 mA }', 'Va'],
  ])('volts across a %s', (_, parts, type, where) => {
    const { value } = find(parts, `${type}, ${where}: 500 V }`, where)!;
    expect(value).toBeGreaterThan(10);
    expect(find(parts, `${type}, ${where}: ${value + 0.01} V }`, where)?.level).toBe('good');
    expect(find(parts, `${type}, ${where}: ${value - 0.01} V }`, where)?.level).toBe('fail');
  });

  it('are not asked for where the file is silent', () => {
    const rows = fittedRows(
      boardWith(forward, more('DX: { kind: diode, VF: { value: 0.6 V, at: 1 mA } }')),
      'X9: { fit: { type: DX } }',
    );
    expect(rows.filter(({ ref, what }) => ref === 'X9' && what === 'rating')).toEqual([]);
  });
});

describe('watts of resistors', () => {
  const watts = (part: string): ReturnType<typeof rowOf> =>
    rowOf(rowsOf(boardWith(part).circuit), part.includes('VR9') ? 'VR9' : 'R9', 'rating', 'watts');

  it.each([
    // 20 V² / 1.6 kΩ.
    ['a resistor', (w: string) => `R9: { kind: resistor, value: 1.6 kΩ, rated: ${w}, between: [vcc, gnd] }`, 250],
    // The whole track bears 0.25 W where half of it, which takes all, has 0.125 W: 20 V² / 3.2 kΩ.
    [
      'half a track',
      (w: string) => `VR9: { kind: trimmer, value: 6.4 kΩ, turn: 50 %, rated: ${w}, between: [vcc, gnd] }`,
      250,
    ],
    // 10 V² / 800 Ω above the wiper in half of the track.
    [
      'a divider',
      (w: string) =>
        `VR9: { kind: trimmer, value: 1.6 kΩ, turn: 50 %, rated: ${w}, between: [vcc, gnd], wiper: w }\nR8: { kind: resistor, value: 10 GΩ, between: [w, gnd] }`,
      250,
    ],
    // 1.6 kΩ below the wiper beside the 1.6 kΩ that load it leave 800 Ω; above stand 800 Ω more, with 10 V, in a third of the track.
    [
      'the part of a track that carries the load, whichever end it is at',
      (w: string) =>
        `VR9: { kind: trimmer, value: 2.4 kΩ, turn: 66.66666666666667 %, rated: ${w}, between: [gnd, vcc], wiper: w }
        R8: { kind: resistor, value: 1.6 kΩ, between: [w, gnd] }`,
      375,
    ],
  ])('of %s', (_, part, milliwatts) => {
    expect(watts(part(`${milliwatts + 0.01} mW`))?.level).toBe('good');
    const over = watts(part(`${milliwatts - 0.01} mW`));
    expect(over?.level).toBe('fail');
    // The wiper's 10 GΩ take parts in 10 million.
    expect(over?.margin).toBeCloseTo(-0.01, 4);
  });

  it('are asked for of a fitted one, but of no wire link', () => {
    const board = boardWith(
      'R9: { kind: resistor, value: 1 kΩ, between: [vcc, gnd] }\nR8: { kind: resistor, value: 1 kΩ, between: [vcc, a] }\nR7: { kind: resistor, value: 1 kΩ, between: [a, gnd] }',
    );
    const rows = fittedRows(board, 'R9: { fit: { value: 2 kΩ } }\nR8: { fit: { value: 0 Ω } }');
    expect(rowOf(rows, 'R9', 'rating', 'watts')?.level).toBe('not measured');
    expect(rowOf(rows, 'R8', 'rating', 'watts')).toBeUndefined();
    expect(rowOf(rows, 'R7', 'rating', 'watts')).toBeUndefined();
  });
});

describe('ripple current', () => {
  const ripple = (rated: string, harmonics = ''): ReturnType<typeof rowOf> =>
    rowOf(
      rowsOf(
        boardWith(
          `C9: { kind: capacitor, build: film, value: 100 µF, esr: 3 Ω, ripple_current: ${rated}, between: [vcc, gnd] }`,
          `rails: { vcc: { volts: 20 V, resistance: 1 Ω, ripple: 1 V, ripple_frequency: 100 Hz${harmonics} } }`,
        ).circuit,
      ),
      'C9',
      'rating',
      'ripple current',
    );
  const amps = (hz: number): number => 1 / Math.hypot(4, 1 / (2 * Math.PI * hz * 100e-6));

  it('is what the ripple of the rail drives through capacitor, ESR and supply', () => {
    const expected = amps(100) * 1000;
    // A closed form against a linear solution in double precision.
    expect(ripple('100 mA')?.value).toBeCloseTo(expected, 6);
    expect(ripple(`${expected + 0.01} mA`)?.level).toBe('good');
    expect(ripple(`${expected - 0.01} mA`)?.level).toBe('fail');
  });

  it('takes the harmonics in', () => {
    const expected = 1000 * Math.hypot(amps(100), 0.5 * amps(200), 0.25 * amps(300));
    expect(ripple('100 mA', ', harmonics: [0.5, 0.25]')?.value).toBeCloseTo(expected, 6);
  });
});
