import { describe, expect, it } from 'vitest';
import type { Board } from '../src/board.ts';
import type { Part } from '../src/circuit.ts';
import { readBoard } from '../src/read-board.ts';
import { smallBoard, wholeBoard } from './whole-board.ts';

function board(text: string): Board {
  const outcome = readBoard(text, 'b.yaml');
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.diagnostics, null, 1));
  return outcome.value;
}

/** Each fault's code, and the eight characters that stand at its place. */
function faults(text: string): readonly string[] {
  const outcome = readBoard(text, 'b.yaml');
  if (outcome.ok) return [];
  const lines = text.split('\n');
  return outcome.diagnostics.map(
    ({ code, place }) => `${code} at ${lines[place.line - 1]?.slice(place.column - 1, place.column + 7) ?? ''}`,
  );
}

const whole = board(wholeBoard);

function part(ref: string, from: Board = whole): Part {
  const found = from.circuit.parts.find((each) => each.ref === ref);
  if (found === undefined) throw new Error(`no ${ref}`);
  return found;
}

describe('readBoard', () => {
  it('writes every channel out', () => {
    expect(whole.channels).toEqual(['left', 'right']);
    expect(whole.channelsStated).toBe(true);
    const load = { resistance: 100e3, capacitance: 330e-12 };
    expect(whole.circuit.channels).toEqual([
      { name: 'left', input: 'in@left', output: 'out@left', load },
      { name: 'right', input: 'in@right', output: 'out@right', load },
    ]);
    expect(whole.circuit.common).toEqual(['vq']);
    expect(whole.circuit.ambient).toBe(298.15);
    expect(whole.circuit.parts.map((each) => each.ref).slice(0, 4)).toEqual(['R101', 'R102', 'C101', 'C102']);
    expect(whole.positions.slice(0, 2)).toEqual([
      ['R101', 'R102'],
      ['C101', 'C102'],
    ]);
  });

  it('reads rails with their ripple', () => {
    expect(whole.circuit.rails).toMatchObject([
      { node: 'vcc', volts: 31, resistance: 1, ripple: 0.02, rippleFrequency: 120, harmonics: [0.25, 0.1] },
      { node: 'vee', volts: -15, resistance: 0 },
    ]);
  });

  it('reads where the loop is looked into, in every channel', () => {
    expect(whole.loops).toEqual([
      { channel: 'left', ref: 'Q103', lead: 'base' },
      { channel: 'right', ref: 'Q104', lead: 'base' },
    ]);
    expect(board(smallBoard).loops).toEqual([]);
    for (const lead of ['Q105.base', 'Q104.gate', 'R101.one'])
      expect(faults(wholeBoard.replace('Q104.base', lead))).toEqual([`unknown-node at ${lead.slice(0, 8)}`]);
    expect(faults(wholeBoard.replace('Q104.base', 'base'))).toEqual(['wrong-form at base }']);
  });

  it('reads resistors and capacitors', () => {
    expect(part('R102')).toEqual({
      ref: 'R102',
      position: 'R102',
      channel: 'right',
      place: { file: 'b.yaml', line: 12, column: 3 },
      kind: 'resistor',
      build: 'carbon_film',
      ohms: 47e3,
      tolerance: { minus: 0.05, plus: 0.05 },
      rated: 0.25,
      noiseIndex: -10,
      between: ['in@right', 'gnd'],
    });
    expect(part('C101')).toMatchObject({
      farads: 0.68e-6,
      plus: 'b1@left',
      minus: 'in@left',
      polarised: true,
      tolerance: { minus: 0.2, plus: 0.8 },
      esr: 4,
      esrAt: 100e3,
      // 0.5 µA at the rated 35 V.
      leakage: 35 / 0.5e-6,
      loss: 0.04,
    });
    expect(part('C104')).toMatchObject({ plus: 'a@right', minus: 'b@right', polarised: false, esr: 4, leakage: 20e6 });
    expect(part('C104')).not.toHaveProperty('esrAt');
  });

  it('reads inductors, trimmers and switches', () => {
    expect(part('L101')).toMatchObject({ henries: 0.01, ohms: 3, between: ['a@left', 'b@left'] });
    expect(part('VR102')).toMatchObject({ ohms: 10e3, turn: 0.4, between: ['a@right', 'b@right'], wiper: 's@right' });
    expect(part('S101')).toMatchObject({ pole: 'a@left', positions: { flat: 'b@left', riaa: 'c1@left' }, at: 'riaa' });
  });

  it('puts parts with a type on their leads', () => {
    expect(part('Q102')).toMatchObject({ leads: { collector: 'c1@right', base: 'b1@right', emitter: 'e1@right' } });
    expect(part('U101B')).toMatchObject({
      leads: { plus: 'p@right', minus: 'm@right', out: 'o@right' },
      rails: ['vcc', 'vee'],
    });
    expect(part('V101A')).toMatchObject({ type: whole.types['TR-A'], typeName: 'TR-A' });
    expect(Object.keys((part('V101A') as { leads: object }).leads)).toEqual(['anode', 'grid', 'cathode']);
  });

  it('gives a part that exists once the one channel it touches', () => {
    expect(part('D103').channel).toBeNull();
    expect(part('D104')).toMatchObject({ channel: 'left', leads: { anode: 'e1@left', cathode: 'vq' } });
  });

  it('reads types into SI figures under the names of the physics', () => {
    expect(whole.types['HN-A']).toMatchObject({
      hFE: [{ value: 320, at: 0.1e-3 }],
      hFELow: 200,
      hFEHigh: 500,
      VBE: { value: 0.6, at: 1e-3 },
      earlyVoltage: 90,
      fT: { value: 150e6, at: 5e-3 },
      caseLeads: { order: 'ECB', view: 'front' },
    });
    expect(whole.types['HP-A']).toMatchObject({
      hFE: [
        { value: 100, at: 0.1e-3 },
        { value: 200, at: 10e-3 },
      ],
      fT: { value: 80e6 },
      caseLeads: { order: 'BCE', view: 'below_flat_up' },
    });
    expect(whole.types['DB-A']).toMatchObject({
      VF: [
        { value: 1.2, at: 1e-3 },
        { value: 1.35, at: 10e-3 },
      ],
    });
    // 100 dB and 80 dB as ratios of voltages.
    expect(whole.types['OA-A']).toMatchObject({
      gain: 1e5,
      PSRR: 1e4,
      en: 4e-9,
      enCorner: 30,
      in: 0.5e-12,
      inCorner: 100,
    });
    expect(whole.types['JF-A']).toMatchObject({ pinchOff: 1, yos: 20e-6 });
    expect(whole.types['JP-A']).toMatchObject({ pinchOff: 1.5 });
    expect(whole.types['TR-A']).toMatchObject({ mu: 100, rp: 62.5e3, at: { Va: 250, Ia: 1.2e-3 } });
  });

  it('gives every part its seat, its size and its own ratings', () => {
    expect(part('C102')).toMatchObject({ seat: { pitch: [5e-3, 7.5e-3], height: 12e-3 }, body: { pitch: 5e-3 } });
    expect(part('Q101').seat).toEqual({ holes: 'ECB' });
    expect(part('R101')).not.toHaveProperty('seat');
    expect(part('C102')).not.toHaveProperty('fitted');
    const rated = board(wholeBoard.replace('esr: 4 Ω, leakage: 20 MΩ', 'ripple_current: 200 mA'));
    expect(rated.circuit.parts.find(({ ref }) => ref === 'C103')).toMatchObject({ rippleCurrent: 0.2 });
  });

  it('reads the case of a type, or the orders of several', () => {
    const cased = (written: string): object => board(wholeBoard.replace('case_leads: ECB', written)).types['HN-A']!;
    expect(cased('case_leads: [ECB, { order: BCE, view: below_flat_up }]')).toMatchObject({
      caseLeads: { order: 'ECB', view: 'front' },
      otherCases: [{ order: 'BCE', view: 'below_flat_up' }],
    });
    expect(cased('case_leads: [ECB]')).not.toHaveProperty('otherCases');
    expect(cased('case: metal_can')).toMatchObject({ caseForm: 'metal_can' });
    expect(faults(wholeBoard.replace('case_leads: ECB', 'case_leads: [ECB, ECC]'))).toEqual(['lead-order at [ECB, EC']);
    expect(faults(wholeBoard.replace('case_leads: ECB', 'case: round'))).toEqual(['wrong-form at round }']);
  });

  it('keeps what is read for later: seats, bodies, cartridges, limits', () => {
    expect(whole.seats.C102).toEqual({ pitch: [5e-3, 7.5e-3], height: 12e-3, diameter: 8e-3 });
    expect(whole.seats.D103).toEqual({ pitch: [10e-3] });
    expect(whole.seats.Q101).toEqual({ holes: 'ECB' });
    expect(whole.bodies.C101).toEqual({ pitch: 5e-3 });
    expect(whole.cartridges['MM-A']).toEqual({ resistance: 800, inductance: 0.48, cable: 150e-12, output: 5e-3 });
    expect(whole.limits).toEqual({
      deviation: { good: 0.6 },
      node_volts: { look: 0.3, floor: 0.02 },
      stability: { margin: 50 },
    });
  });

  it('calls the one channel of a board without channels mono', () => {
    const small = board(smallBoard);
    expect(small.channels).toEqual(['mono']);
    expect(small.channelsStated).toBe(false);
    expect(part('R1', small)).toMatchObject({ channel: 'mono', between: ['in@mono', 'out@mono'] });
    expect(small.positions).toEqual([['R1'], ['R2']]);
  });

  it('finds nothing in its tables but what the file names', () => {
    expect(whole.types.constructor).toBeUndefined();
    expect(faults(wholeBoard.replace('type: DB-A', 'type: constructor'))).toEqual(['unknown-type at construc']);
  });
});

describe('faults beyond the form', () => {
  it('are all reported, in the order of the file', () => {
    const broken = wholeBoard
      .replace('between: [a, b], wiper: s', 'between: [a, a@middle], wiper: vq@left')
      .replace('type: JF-A', 'type: JF-B');
    expect(faults(broken)).toEqual([
      'unknown-node at a@middle',
      'unknown-node at vq@left ',
      'unknown-type at JF-B, dr',
    ]);
  });

  it('name both spellings of a channel node on a part that exists once', () => {
    const outcome = readBoard(wholeBoard.replace('e1@left', 'e1'), 'b.yaml');
    expect(outcome).toMatchObject({ diagnostics: [{ code: 'bare-channel-node' }] });
    expect(JSON.stringify(outcome)).toContain('e1@left or e1@right');
  });

  it('refuse an input that is shared, named with a channel, or touched by nothing', () => {
    for (const node of ['gnd', 'vq', 'in@left', 'nowhere'])
      expect(faults(wholeBoard.replace('{ node: in }', `{ node: ${node} }`)), node).toEqual([
        `unknown-node at ${`${node} }`.slice(0, 8)}`,
      ]);
  });

  it('refuse a leakage current without a rating', () => {
    const broken = wholeBoard.replace('rated: 35 V, ', '');
    expect(faults(broken)).toEqual(['missing-key at 0.5 µA, ']);
  });

  it('refuse rails on anything but an op-amp, missing leads, and lead orders of other letters', () => {
    expect(faults(wholeBoard.replace('source: s }', 'source: s, rails: [vcc, vee] }'))).toEqual([
      'type-leads at rails: [',
    ]);
    expect(faults(wholeBoard.replace('gate: g, ', ''))).toEqual(['type-leads at J101/J10']);
    expect(faults(wholeBoard.replace('holes: ECB', 'holes: DGS'))).toEqual(['lead-order at DGS } }']);
    expect(faults(wholeBoard.replace('case_leads: ECB', 'case_leads: ECC'))).toEqual(['lead-order at ECC }']);
  });

  it('let leads share a node as long as one stands elsewhere', () => {
    expect(faults(wholeBoard.replace('minus: m, out: o', 'minus: o, out: o'))).toEqual([]);
    expect(faults(wholeBoard.replace('drain: d, gate: g', 'drain: s, gate: s'))).toEqual([
      'leads-on-one-node at J101/J10',
    ]);
  });
});

describe('faults of figures', () => {
  const cases: readonly (readonly [string, string, string])[] = [
    ['VGS_off: -1 V', 'VGS_off: 1 V', 'out-of-range at 1 V, yos'],
    ['VGS_off: 1.5 V', 'VGS_off: -1.5 V', 'out-of-range at -1.5 V }'],
    ['Ciss: 15 pF', 'Ciss: 3 pF', 'out-of-range at 3 pF, en'],
    ['low: 200', 'low: 400', 'out-of-range at 400, typ'],
    ['{ value: 1.2 V, at: 1 mA }', '{ value: 1.4 V, at: 1 mA }', 'out-of-range at [{ value'],
    ['{ value: 1.2 V, at: 1 mA }', '{ value: 1.2 V, at: 10 mA }', 'out-of-range at [{ value'],
    ['{ value: 1.2 V, at: 1 mA }]', '{ value: 1.2 V, at: 1 mA }], ideality: 2', 'wrong-form at 2 }'],
    ['VF: { value: 0.6 V, at: 1 mA }', 'VF: 0.6 V', 'wrong-form at 0.6 V, i'],
    ['VBE: { value: 620 mV, at: 1 mA }, ', '', 'missing-key at HP-A: { '],
    ['turn: 40 %', 'turn: 140 %', 'out-of-range at 140 %, b'],
    ['at: riaa', 'at: iec', 'wrong-form at iec }'],
    ['mu: 100', 'mu: lots', 'wrong-form at lots, rp'],
    ['ripple_frequency: 120 Hz, ', '', 'missing-key at vcc: { v'],
    ['channels: [left, right]', 'channels: [left, left]', 'wrong-form at left]'],
    ['good: 0.6 dB', 'good: 0.6 dB, look: 0.5 dB', 'out-of-range at 0.5 dB }'],
    ['good: 0.6 dB', 'from: 100 Hz, to: 50 Hz', 'out-of-range at 50 Hz },'],
    ['high: 500', 'high: 300', 'out-of-range at 300, at:'],
    ['mu: 100', 'mu: 0', 'out-of-range at 0, rp: 6'],
    ['kind: pnp', 'kind: pmp', 'wrong-form at pmp, hFE'],
    ['{ kind: jfet-p, IDSS: 6 mA, VGS_off: 1.5 V }', '1.5 V', 'wrong-form at 1.5 V'],
    ['leakage: 0.5 µA', 'leakage: -1 MΩ', 'out-of-range at -1 MΩ, l'],
    ['leakage: 0.5 µA', 'leakage: 5 Hz', 'wrong-unit at 5 Hz, lo'],
    ['rated: 35 V', 'rated: [35 V]', 'wrong-form at [35 V], '],
    ['tolerance: 5 %', 'tolerance: {}', 'wrong-form at {}, rate'],
    ['resistance: 3 Ω', 'resistance: -3 Ω', 'out-of-range at -3 Ω, be'],
    ['build: tantalum', 'build: tantal', 'wrong-form at tantal, '],
    ['title: Larkfield LK 417, phono card', 'title: []', 'wrong-form at []'],
    ['common: [vq]', 'common: vq', 'wrong-form at vq'],
    [
      'Q103/Q104: {',
      'Q103/Q104: { kind: resistor, value: 1 kΩ, between: [a, b] }\n  x1: {',
      'not-a-designator at x1: { ty',
    ],
    ['50 °', '190 °', 'out-of-range at 190 ° } '],
    ['50 °', '50', 'wrong-unit at 50 } }'],
  ];
  it.each(cases)('%s → %s', (good, bad, fault) => {
    expect(wholeBoard).toContain(good);
    expect(faults(wholeBoard.replace(good, bad))).toEqual([fault]);
  });

  it('accepts a transit time that the capacitances just leave room for, and refuses the next', () => {
    // τ = 0 where fT = I/(2π (Cib + Cob) kT/q); at 5 mA, 9 pF and 25 °C this is 3441 MHz.
    expect(faults(wholeBoard.replace('value: 150 MHz', 'value: 3440 MHz'))).toEqual([]);
    expect(faults(wholeBoard.replace('value: 150 MHz', 'value: 3443 MHz'))).toEqual(['transit-time at { value:']);
  });
});
