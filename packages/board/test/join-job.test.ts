import { describe, expect, it } from 'vitest';
import type { Part } from '../src/circuit.ts';
import { circuitOf } from '../src/states.ts';
import { boardFrom, faultWords, jobFrom, jobText, outcomeOf, wholeJob } from './job-texts.ts';
import { smallBoard } from './whole-board.ts';

function messages(text: string): string {
  const outcome = outcomeOf(text, boardFrom(smallBoard));
  return outcome.ok ? '' : outcome.diagnostics.map(({ message }) => message).join('\n');
}

/** The part of the rebuilt circuit with this designator. */
function rebuilt(positions: string, ref: string, rest = ''): Part | undefined {
  const state = circuitOf(jobFrom(jobText(`positions: { ${positions} }\n${rest}`)), 'rebuilt');
  return state?.circuit.parts.find((part) => part.ref === ref);
}

const fault = (positions: string, rest = ''): readonly string[] =>
  faultWords(jobText(`positions: { ${positions} }\n${rest}`));

describe('positions', () => {
  it('are designators of the board, or all the twins of one key in its order', () => {
    expect(fault('R999: { why: x }')).toEqual(['unknown-position at R999']);
    expect(fault('R101/R104: { why: x }')).toEqual(['unknown-position at R101/R104']);
    expect(fault('R102/R101: { why: x }')).toEqual(['unknown-position at R102/R101']);
    expect(fault('R101/R102: { why: x }, C101: { why: y }')).toEqual([]);
    expect(messages(jobText('positions: { R3: { why: x } }'))).toBe('the board has no R3; did you mean R1?');
  });

  it('answer for a pair with its own key, spelled out', () => {
    const outcome = outcomeOf(jobText('positions: { R102/R101: { why: x } }'), jobFrom(wholeJob).board);
    expect(outcome.ok ? '' : outcome.diagnostics[0]?.message).toContain('write R101/R102');
  });

  it('let a single designator go over its pair, key by key, wherever it stands', () => {
    const pair = 'C101/C102: { pulled: { value: 0.5 µF }, fit: { value: 1 µF }, why: old }';
    const single = 'C102: { fit: { value: 2 µF } }';
    for (const positions of [`${pair}, ${single}`, `${single}, ${pair}`]) {
      const job = jobFrom(jobText(`positions: { ${positions} }`));
      const of = (ref: string): unknown => job.positions.find(({ drawn }) => drawn.ref === ref);
      expect(of('C101')).toMatchObject({
        pulled: { parts: [{ farads: 0.5e-6 }] },
        fitted: { parts: [{ farads: 1e-6 }] },
      });
      expect(of('C102')).toMatchObject({
        pulled: { parts: [{ farads: 0.5e-6 }] },
        fitted: { parts: [{ farads: 2e-6 }] },
        entry: { why: 'old' },
      });
    }
  });

  it('say a fault that both twins have once', () => {
    expect(fault('C101/C102: { fit: { build: carbon_film } }')).toEqual(['fit-mismatch at carbon_film']);
  });
});

describe('a fitted part', () => {
  it('takes the nodes, the kind and a silent value from the drawing, and nothing else', () => {
    expect(rebuilt('C101/C102: { fit: { build: film } }', 'C101')).toEqual({
      kind: 'capacitor',
      ref: 'C101',
      position: 'C101',
      channel: 'left',
      place: { file: 'j.job.yaml', line: 4, column: 32 },
      farads: 0.68e-6,
      plus: 'b1@left',
      minus: 'in@left',
      polarised: true,
      build: 'film',
      seat: { pitch: [5e-3, 7.5e-3], height: 12e-3, diameter: 8e-3 },
      fitted: true,
    });
    expect(rebuilt('R101: { fit: { tolerance: 1 % } }', 'R101')).not.toHaveProperty('noiseIndex');
    expect(rebuilt('L101: { fit: { value: 22 mH } }', 'L101')).toMatchObject({ henries: 22e-3, ohms: 0 });
  });

  it('leaves a trimmer and a switch as they stand', () => {
    expect(rebuilt('VR101: { fit: { value: 22 kΩ } }', 'VR101')).toMatchObject({
      ohms: 22e3,
      turn: 0.4,
      wiper: 's@left',
    });
    expect(rebuilt('S101: { fit: { at: flat } }', 'S101')).toMatchObject({ at: 'flat' });
    expect(fault('S101: { fit: { at: lateral } }')).toEqual(['fit-mismatch at lateral']);
  });

  it('may be a wire link in place of a resistor, but no capacitor of 0 F', () => {
    expect(rebuilt('R101: { fit: { value: 0 Ω } }', 'R101')).toMatchObject({ ohms: 0 });
    expect(fault('C101: { fit: { value: 0 F } }')).toEqual(['out-of-range at 0']);
    expect(fault('R101: { fit: { value: -1 Ω } }')).toEqual(['out-of-range at -1']);
  });

  it('is of the kind of its position', () => {
    expect(fault('Q101: { fit: { type: HP-A } }')).toEqual(['fit-mismatch at HP-A']);
    expect(fault('Q101: { fit: { type: JF-A } }')).toEqual(['fit-mismatch at JF-A']);
    expect(fault('J101: { fit: { type: JP-A } }')).toEqual(['fit-mismatch at JP-A']);
    expect(fault('Q101: { fit: { type: HN-A, value: 1 kΩ } }')).toEqual(['fit-mismatch at value']);
    expect(fault('C101: { fit: { type: HN-A } }')).toEqual(['fit-mismatch at type']);
    expect(fault('C101: { fit: { value: 47 kΩ } }')).toEqual(['wrong-unit at 47']);
    expect(fault('R101: { fit: { value: 1 kΩ, rated: 35 V } }')).toEqual(['wrong-unit at 35']);
    expect(fault('R101: { fit: { build: film } }')).toEqual(['fit-mismatch at film']);
  });

  it('has a known type of its own', () => {
    expect(fault('Q101: { fit: { type: HN-C } }')).toEqual(['unknown-type at HN-C']);
    expect(fault('Q101: { fit: { type: constructor } }')).toEqual(['unknown-type at constructor']);
    expect(fault('Q101: { fit: { hFE: 300 } }')).toEqual(['missing-key at fit']);
    const types = 'types: { HN-A: { kind: npn, hFE: 77, VBE: { value: 0.6 V, at: 1 mA } } }';
    expect(rebuilt('Q101: { fit: { type: HN-A } }', 'Q101', types)).toMatchObject({ type: { hFE: [{ value: 77 }] } });
    expect(rebuilt('Q102: { why: x }', 'Q101', types)).toMatchObject({ type: { hFE: [{ value: 320 }] } });
  });

  it('lets diode and zener stand in for each other', () => {
    expect(rebuilt('D104: { fit: { type: DS-A } }', 'D104')).toMatchObject({
      leads: { anode: 'e1@left', cathode: 'vq' },
    });
    expect(rebuilt('D103: { fit: { type: ZD-A } }', 'D103')).toMatchObject({ leads: { anode: 'vq', cathode: 'gnd' } });
  });

  it('may carry figures measured on the piece', () => {
    const part = rebuilt('Q101: { fit: { type: HN-A, hFE: 410, VBE: { value: 0.61 V, at: 1 mA } } }', 'Q101');
    expect(part).toMatchObject({ type: { hFE: [{ value: 410, at: 0 }], VBE: { value: 0.61 }, earlyVoltage: 90 } });
    expect(rebuilt('J101: { fit: { type: JF-A, VGS_off: -1.3 V } }', 'J101')).toMatchObject({
      type: { pinchOff: 1.3 },
    });
    expect(fault('D103: { fit: { type: DS-A, hFE: 300 } }')).toEqual(['fit-mismatch at hFE']);
  });

  it('has its own size, ripple current and case, and the place of the drawn one', () => {
    expect(rebuilt('C101: { fit: { body: { height: 9 mm }, ripple_current: 50 mA } }', 'C101')).toMatchObject({
      seat: { height: 12e-3 },
      body: { height: 9e-3 },
      rippleCurrent: 0.05,
    });
    expect(rebuilt('C101: { fit: { build: film } }', 'C101')).not.toHaveProperty('body');
    expect(rebuilt('C101: { pulled: { value: 0.6 µF } }', 'C101')).toMatchObject({ body: { pitch: 5e-3 } });
    expect(rebuilt('C101: { pulled: { value: 0.6 µF } }', 'C101')).not.toHaveProperty('fitted');
    const types = 'types: { HX: { kind: npn, hFE: 1, VBE: { value: 0.6 V, at: 1 mA }, case_leads: [ECB, BCE] } }';
    expect(rebuilt('Q101: { fit: { type: HX } }', 'Q101', types)).toHaveProperty('type.otherCases');
    const inHand = rebuilt('Q101: { fit: { type: HX, case_leads: BCE, case: power } }', 'Q101', types);
    expect(inHand).toMatchObject({ type: { caseLeads: { order: 'BCE' }, caseForm: 'power' } });
    expect(inHand).not.toHaveProperty('type.otherCases');
  });

  it('may state its leakage as a current at its own rating only', () => {
    expect(rebuilt('C101: { fit: { rated: 50 V, leakage: 0.5 µA } }', 'C101')).toMatchObject({ leakage: 100e6 });
    expect(fault('C101: { fit: { leakage: 0.5 µA } }')).toEqual(['missing-key at 0.5']);
    expect(fault('C101: { pulled: { leakage: 0.5 µA } }')).toEqual([]);
  });
});

describe('several parts in one position', () => {
  const partsOf = (positions: string): readonly Part[] => {
    const parts = circuitOf(jobFrom(jobText(`positions: { ${positions} }`)), 'rebuilt')?.circuit.parts ?? [];
    return parts.filter((part) => part.ref !== part.position);
  };

  it('stand in series from the anode on, through an inner node', () => {
    expect(partsOf('D103: { fit: [{ type: DS-A }, { type: DS-A }, { type: DB-A }] }')).toMatchObject([
      { ref: 'D103.1', position: 'D103', leads: { anode: 'vq', cathode: 'D103.1-2' } },
      { ref: 'D103.2', position: 'D103', leads: { anode: 'D103.1-2', cathode: 'D103.2-3' } },
      { ref: 'D103.3', position: 'D103', leads: { anode: 'D103.2-3', cathode: 'gnd' }, typeName: 'DB-A' },
    ]);
  });

  it('have inner nodes of their channel, and shared ones under common', () => {
    const job = jobFrom(
      jobText(
        'positions: { C101/C102: { fit: [{ value: 2 µF }, { value: 2 µF }] }, D103: { fit: [{ type: DS-A }, { type: DS-A }] } }',
      ),
    );
    const circuit = circuitOf(job, 'rebuilt')?.circuit;
    expect(circuit?.parts.filter((part) => part.position === 'C102')).toMatchObject([
      { ref: 'C102.1', channel: 'right', plus: 'b1@right', minus: 'C102.1-2@right' },
      { ref: 'C102.2', channel: 'right', plus: 'C102.1-2@right', minus: 'in@right' },
    ]);
    expect(circuit?.common).toEqual(['vq', 'D103.1-2']);
  });

  it('stand side by side on the same nodes', () => {
    expect(partsOf('R101: { fit: { parallel: [{ value: 100 kΩ }, { value: 91 kΩ }] } }')).toMatchObject([
      { ref: 'R101.1', ohms: 100e3, between: ['in@left', 'gnd'] },
      { ref: 'R101.2', ohms: 91e3, between: ['in@left', 'gnd'] },
    ]);
  });

  it('of one are that part, and need two leads each', () => {
    expect(rebuilt('D103: { fit: [{ type: DS-A }] }', 'D103')).toMatchObject({ typeName: 'DS-A' });
    expect(fault('Q101: { fit: [{ type: HN-A }, { type: HN-A }] }')).toEqual(['fit-mismatch at {']);
    expect(fault('VR101: { fit: { parallel: [{ value: 1 kΩ }, { value: 1 kΩ }] } }')).toEqual(['fit-mismatch at {']);
  });
});

describe('the way a part goes in', () => {
  // The board's holes are emitter, collector, base; a case put in base, collector, emitter is turned round by 180°.
  it('stands the leads in the holes as written', () => {
    expect(rebuilt('Q101: { fit: { type: HN-A, inserted: BCE } }', 'Q101')).toMatchObject({
      leads: { base: 'e1@left', collector: 'c1@left', emitter: 'b1@left' },
    });
    expect(rebuilt('Q101: { fit: { type: HN-A, inserted: CBE } }', 'Q101')).toMatchObject({
      leads: { collector: 'e1@left', base: 'c1@left', emitter: 'b1@left' },
    });
    expect(rebuilt('Q101: { fit: { type: HN-A, inserted: ECB } }', 'Q101')).toMatchObject({
      leads: { collector: 'c1@left', base: 'b1@left', emitter: 'e1@left' },
    });
  });

  it('is kept beside the nodes that follow from it, and forgotten when the part is put back otherwise', () => {
    expect(rebuilt('Q101: { fit: { type: HN-A, inserted: BCE } }', 'Q101')).toMatchObject({ inserted: 'BCE' });
    expect(rebuilt('Q101: { pulled: { inserted: BCE }, inserted: CBE }', 'Q101')).toMatchObject({ inserted: 'CBE' });
    expect(rebuilt('Q101: { fit: { type: HN-A } }', 'Q101')).not.toHaveProperty('inserted');
  });

  it('needs an order of its leads, and the order of the holes', () => {
    expect(fault('Q101: { fit: { type: HN-A, inserted: DGS } }')).toEqual(['lead-order at DGS']);
    expect(fault('Q101: { fit: { type: HN-A, inserted: BC } }')).toEqual(['lead-order at BC']);
    expect(fault('Q103: { fit: { type: HP-A, inserted: BCE } }')).toEqual(['lead-order at BCE']);
    expect(fault('Q101: { fit: { type: HN-A, case_leads: DGS } }')).toEqual(['lead-order at DGS']);
    expect(fault('', 'types: { HX: { kind: npn, hFE: 1, VBE: { value: 0.6 V, at: 1 mA }, case_leads: DGS } }')).toEqual(
      ['lead-order at DGS'],
    );
  });

  it('turns a polarised part the wrong way round, and no other', () => {
    expect(rebuilt('C101: { fit: { reversed: true } }', 'C101')).toMatchObject({ plus: 'in@left', minus: 'b1@left' });
    expect(rebuilt('D103: { fit: { type: DS-A, reversed: true } }', 'D103')).toMatchObject({
      leads: { anode: 'gnd', cathode: 'vq' },
    });
    expect(fault('C103: { fit: { reversed: true } }')).toEqual(['fit-mismatch at true']);
    expect(fault('R101: { fit: { reversed: true } }')).toEqual(['fit-mismatch at reversed']);
  });

  it('may stand beside fit, and alone for a part put back', () => {
    const turned = { leads: { base: 'e1@left', collector: 'c1@left', emitter: 'b1@left' } };
    expect(rebuilt('Q101: { fit: { type: HN-A }, inserted: BCE }', 'Q101')).toMatchObject(turned);
    expect(rebuilt('Q101: { inserted: BCE }', 'Q101')).toMatchObject(turned);
    expect(rebuilt('Q101: { pulled: { inserted: BCE }, inserted: ECB }', 'Q101')).toMatchObject({
      leads: { base: 'b1@left' },
    });
    expect(rebuilt('C101: { reversed: true }', 'C101')).toMatchObject({ plus: 'in@left', farads: 0.68e-6 });
    expect(fault('D103: { fit: none, reversed: true }')).toEqual(['fit-mismatch at true']);
    expect(fault('R101: { inserted: BCE }')).toEqual(['lead-order at BCE']);
  });
});

describe('added parts', () => {
  it('need a designator and nodes as on a board', () => {
    const added = (entry: string): readonly string[] => faultWords(jobText(`added: { ${entry} }`));
    expect(added('R101: { kind: resistor, value: 1 kΩ, between: [vcc, gnd] }')).toEqual(['designator-twice at R101']);
    expect(added('R150: { kind: resistor, value: 1 kΩ, between: [in, gnd] }')).toEqual(['bare-channel-node at in']);
    expect(added('R150/R151: { kind: resistor, value: 1 kΩ, between: [in, gnd] }')).toEqual([]);
    expect(added('D150: { type: DX, anode: vcc, cathode: gnd }')).toEqual(['unknown-type at DX']);
  });
});

describe('readings', () => {
  const reading = (line: string): readonly string[] => faultWords(jobText(`readings: [{ state: found, ${line} }]`));

  it('name nodes and leads, alone against gnd or one minus the other', () => {
    expect(jobFrom(wholeJob).readings.map(({ volts }) => volts.map(({ name, nodes }) => [name, ...nodes]))).toEqual([
      [
        ['Q101.collector', 'c1@left', 'gnd'],
        ['e1@left', 'e1@left', 'gnd'],
        ['Q101.base-Q101.emitter', 'b1@left', 'e1@left'],
      ],
      [
        ['D103.1-2', 'D103.1-2', 'gnd'],
        ['vq-D103.1-2', 'vq', 'D103.1-2'],
        ['D103.2.cathode', 'gnd', 'gnd'],
      ],
    ]);
  });

  it('refuse what is no place of the board in that state', () => {
    expect(reading('volts: { e9@left: 1 V }')).toEqual(['unknown-node at e9@left']);
    expect(reading('volts: { Q101.gate: 1 V }')).toEqual(['unknown-node at Q101.gate']);
    expect(reading('volts: { vcc-e9@left: 1 V }')).toEqual(['unknown-node at vcc-e9@left']);
    expect(reading('volts: { e1: 1 V }')).toEqual(['bare-channel-node at e1']);
    expect(reading('ohms: { vcc-e1: 1 Ω }')).toEqual(['bare-channel-node at vcc-e1']);
    expect(reading('heard: [{ what: hum, channel: middle }]')).toEqual(['unknown-node at middle']);
    expect(faultWords(wholeJob.replace('state: rebuilt\n', 'state: found\n'))).toHaveLength(3);
    expect(faultWords(jobText('measured: { state: rebuilt, at: board, response: { middle: m.csv } }'))).toEqual([
      'unknown-node at middle',
    ]);
  });

  it('take bare nodes on a board of one channel', () => {
    const job = jobFrom(jobText('readings: [{ state: found, volts: { out: 1 V, R1.2: 1 V } }]'), boardFrom(smallBoard));
    expect(job.readings[0]?.volts.map(({ nodes }) => nodes)).toEqual([
      ['out@mono', 'gnd'],
      ['out@mono', 'gnd'],
    ]);
  });

  it('may touch the leads of a part that was found open', () => {
    const text = jobText(
      'positions: { C101: { pulled: { faults: [open_circuit] } } }\nreadings: [{ state: found, volts: { C101.plus: 1 V } }]',
    );
    expect(jobFrom(text).readings[0]?.volts[0]?.nodes).toEqual(['b1@left', 'gnd']);
  });
});

describe('limits and temperature', () => {
  it('go over the board, which goes over the defaults', () => {
    const { limits, ambient } = jobFrom(wholeJob.replace('ambient: 25 °C', 'ambient: 45 °C'));
    expect(limits.deviation).toEqual({ good: 0.7, look: 1, from: 30, to: 15e3 });
    expect(limits.node_volts).toEqual({ good: 0.1, look: 0.3, floor: 0.02 });
    expect(ambient).toBe(318.15);
    expect(jobFrom(jobText('')).ambient).toBe(298.15);
  });
});
