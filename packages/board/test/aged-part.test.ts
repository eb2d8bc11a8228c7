import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { agePart } from '../src/aged-part.ts';
import type { Circuit, Part } from '../src/circuit.ts';
import { faultMismatch } from '../src/fault-mismatch.ts';
import { junctionNames, type Fault } from '../src/fault.ts';
import { leadsOf } from '../src/leads.ts';
import { board } from './job-texts.ts';

const { circuit } = board;
const part = (of: Circuit, ref: string): Part | undefined => of.parts.find((each) => each.ref === ref);
const aged = (ref: string, fault: Fault): Circuit => agePart(circuit, ref, fault);

/** The parts that a fault put in or changed. */
function changed(ref: string, fault: Fault): readonly Part[] {
  return aged(ref, fault).parts.filter((each) => !circuit.parts.includes(each));
}

const gap = 100e9;

describe('a fault in a figure', () => {
  it.each<[string, Fault, object]>([
    ['C101', { kind: 'dried', value: 0.2e-6, esr: 90 }, { farads: 0.2e-6, esr: 90, leakage: 70e6 }],
    ['C103', { kind: 'leaky', ohms: 1e6 }, { farads: 330e-9, leakage: 1e6, esr: 4 }],
    ['C103', { kind: 'drifted', value: 1e-9 }, { farads: 1e-9 }],
    ['R101', { kind: 'drifted', value: 51e3 }, { ohms: 51e3, noiseIndex: -10 }],
    ['L101', { kind: 'drifted', value: 5e-3 }, { henries: 5e-3, ohms: 3 }],
    ['VR101', { kind: 'drifted', value: 5e3 }, { ohms: 5e3, turn: 0.4 }],
    ['Q101', { kind: 'leaky_transistor', ICBO: 1e-5 }, { type: { ICBO: 1e-5, earlyVoltage: 90 } }],
    ['Q103', { kind: 'low_hFE', hFE: 20 }, { type: { kind: 'pnp', hFE: [{ value: 20, at: 0 }] } }],
    ['Q101', { kind: 'noisy', corner: 1e4 }, { type: { noiseCorner: 1e4 } }],
  ])('%s %o', (ref, fault, figures) => {
    expect(changed(ref, fault)).toEqual([expect.objectContaining({ ref })]);
    expect(part(aged(ref, fault), ref)).toMatchObject(figures);
  });

  it('forgets the frequency at which the ESR of the sound part was read', () => {
    expect(part(circuit, 'C101')).toHaveProperty('esrAt');
    expect(part(aged('C101', { kind: 'dried', value: 1e-7, esr: 90 }), 'C101')).not.toHaveProperty('esrAt');
  });
});

describe('an open part', () => {
  it('leaves a gap between two leads, and from the first lead to each other one of several', () => {
    expect(changed('C101', { kind: 'open' })).toMatchObject([
      { ref: 'C101', ohms: gap, between: ['b1@left', 'in@left'] },
    ]);
    expect(changed('Q101', { kind: 'open' })).toMatchObject([
      { ref: 'Q101.base', position: 'Q101', ohms: gap, between: ['c1@left', 'b1@left'] },
      { ref: 'Q101.emitter', position: 'Q101', ohms: gap, between: ['c1@left', 'e1@left'] },
    ]);
    expect(changed('VR101', { kind: 'open' })).toMatchObject([
      { ref: 'VR101.2', between: ['a@left', 'b@left'] },
      { ref: 'VR101.wiper', between: ['a@left', 's@left'] },
    ]);
  });

  it('lies at the pole of a switch, whose other leads stay where they are', () => {
    expect(aged('S101', { kind: 'open' })).toEqual(aged('S101', { kind: 'open_joint', lead: 'pole' }));
  });

  it('leaves a gate behind it floating', () => {
    const stopper: Part = {
      ...(part(circuit, 'R101') as Part & { kind: 'resistor' }),
      ref: 'R9',
      between: ['vq', 'g@left'],
    };
    const open = agePart({ ...circuit, parts: [...circuit.parts, stopper] }, 'R9', { kind: 'open' });
    expect(part(open, 'R9')).toBeUndefined();
    expect(open.parts).toHaveLength(circuit.parts.length);
  });
});

describe('a short', () => {
  it('is a link of no resistance in place of the part', () => {
    expect(changed('C102', { kind: 'short' })).toMatchObject([
      { ref: 'C102', ohms: 0, between: ['b1@right', 'in@right'] },
    ]);
    expect(changed('D103', { kind: 'short' })).toMatchObject([{ ref: 'D103', ohms: 0, between: ['vq', 'gnd'] }]);
  });

  it('of a junction lies beside the transistor', () => {
    expect(changed('Q101', { kind: 'junction_short', junction: 'collector_emitter' })).toMatchObject([
      { ref: 'Q101.collector_emitter', position: 'Q101', ohms: 0, between: ['c1@left', 'e1@left'] },
    ]);
    expect(part(aged('Q101', { kind: 'junction_short', junction: 'base_emitter' }), 'Q101')).toBe(
      part(circuit, 'Q101'),
    );
    expect(changed('J102', { kind: 'junction_short', junction: 'gate_drain' })).toMatchObject([
      { between: ['g@right', 'd@right'] },
    ]);
  });
});

describe('a lead that came off', () => {
  it('stands on a node named after it, a gap away from its own', () => {
    for (const fault of [
      { kind: 'open_joint', lead: 'emitter' },
      { kind: 'junction_open', junction: 'base_emitter' },
    ] as const) {
      expect(changed('Q101', fault)).toMatchObject([
        { ref: 'Q101', leads: { collector: 'c1@left', base: 'b1@left', emitter: 'Q101.emitter@left' } },
        {
          ref: 'Q101.emitter',
          position: 'Q101',
          channel: 'left',
          ohms: gap,
          between: ['e1@left', 'Q101.emitter@left'],
        },
      ]);
    }
    expect(part(aged('Q101', { kind: 'junction_open', junction: 'base_collector' }), 'Q101.collector')).toBeDefined();
  });

  it.each<[string, string, object]>([
    ['R101', '2', { between: ['in@left', 'R101.2@left'] }],
    ['C101', 'minus', { plus: 'b1@left', minus: 'C101.minus@left' }],
    ['C103', '1', { plus: 'C103.1@left', minus: 'b@left' }],
    ['VR101', 'wiper', { between: ['a@left', 'b@left'], wiper: 'VR101.wiper@left' }],
    ['VR101', '1', { between: ['VR101.1@left', 'b@left'], wiper: 's@left' }],
    ['S101', 'pole', { pole: 'S101.pole@left' }],
    ['S101', 'riaa', { positions: { flat: 'b@left', riaa: 'S101.riaa@left' } }],
  ])('%s %s', (ref, lead, expected) => {
    expect(part(aged(ref, { kind: 'contact', lead, ohms: 30 }), ref)).toMatchObject(expected);
    expect(part(aged(ref, { kind: 'contact', lead, ohms: 30 }), `${ref}.${lead}`)).toMatchObject({ ohms: 30 });
  });

  it('of a part that the channels share makes a shared node', () => {
    expect(aged('D103', { kind: 'open_joint', lead: 'anode' }).common).toEqual(['vq', 'D103.anode']);
  });

  it('floats where it takes no current, unless a resistance still joins it', () => {
    expect(changed('J101', { kind: 'open_joint', lead: 'gate' })).toMatchObject([{ ref: 'J101' }]);
    expect(changed('U101A', { kind: 'open_joint', lead: 'minus' })).toMatchObject([{ ref: 'U101A' }]);
    expect(changed('J101', { kind: 'contact', lead: 'gate', ohms: 30 })).toHaveLength(2);
  });

  it('comes off once', () => {
    const once = aged('Q101', { kind: 'open_joint', lead: 'base' });
    expect(agePart(once, 'Q101', { kind: 'contact', lead: 'base', ohms: 30 })).toBe(once);
  });
});

describe('a cracked track', () => {
  const beyond = [
    { position: 'C101', lead: 'plus' },
    { position: 'R101', lead: '1' },
  ];

  it('takes the leads beyond it along, those that stand on its node', () => {
    const cracked = aged('Q101', { kind: 'cracked_track', lead: 'base', beyond });
    expect(part(cracked, 'Q101')).toMatchObject({ leads: { base: 'Q101.base@left' } });
    expect(part(cracked, 'C101')).toMatchObject({ plus: 'Q101.base@left', minus: 'in@left' });
    expect(part(cracked, 'Q101.base')).toMatchObject({ ohms: gap, between: ['b1@left', 'Q101.base@left'] });
    expect(part(cracked, 'R101')).toEqual(part(circuit, 'R101'));
  });

  it('has a gap where a gate does not stand alone beyond it', () => {
    const alone = { kind: 'cracked_track', lead: 'gate', beyond: [] } as const;
    expect(part(aged('J101', alone), 'J101.gate')).toBeUndefined();
    const gated = { ...(part(circuit, 'R101') as Part & { kind: 'resistor' }), ref: 'R9', position: 'R9' };
    const leak: Part = { ...gated, between: ['g@left', 'gnd'] };
    const crack: Fault = { ...alone, beyond: [{ position: 'R9', lead: '1' }] };
    const cracked = agePart({ ...circuit, parts: [...circuit.parts, leak] }, 'J101', crack);
    expect(part(cracked, 'J101.gate')).toMatchObject({ ohms: gap });
  });
});

describe('an open wiper', () => {
  it('leaves the track between the ends, or a gap in a variable resistor', () => {
    expect(changed('VR101', { kind: 'wiper_open' })).toMatchObject([
      { ref: 'VR101', kind: 'resistor', ohms: 10e3, between: ['a@left', 'b@left'] },
    ]);
    const { wiper: _, ...variable } = part(circuit, 'VR101') as Part & { kind: 'trimmer' };
    const open = agePart({ ...circuit, parts: [variable] }, 'VR101', { kind: 'wiper_open' });
    expect(open.parts).toEqual([]);
  });
});

describe('a fault that a part cannot have', () => {
  it.each<[string, Fault]>([
    ['R999', { kind: 'open' }],
    ['Q101', { kind: 'short' }],
    ['VR101', { kind: 'short' }],
    ['R101', { kind: 'dried', value: 1, esr: 1 }],
    ['L101', { kind: 'leaky', ohms: 1 }],
    ['Q101', { kind: 'drifted', value: 1 }],
    ['S101', { kind: 'drifted', value: 1 }],
    ['J101', { kind: 'leaky_transistor', ICBO: 1 }],
    ['D103', { kind: 'low_hFE', hFE: 1 }],
    ['V101A', { kind: 'noisy', corner: 1 }],
    ['Q101', { kind: 'junction_open', junction: 'collector_emitter' }],
    ['Q101', { kind: 'junction_short', junction: 'gate_source' }],
    ['J101', { kind: 'junction_open', junction: 'drain_source' }],
    ['D103', { kind: 'junction_short', junction: 'base_emitter' }],
    ['Q101', { kind: 'open_joint', lead: 'anode' }],
    ['Q101', { kind: 'contact', lead: 'constructor', ohms: 1 }],
    ['C101', { kind: 'cracked_track', lead: '1', beyond: [] }],
    ['R101', { kind: 'wiper_open' }],
  ])('%s %o throws', (ref, fault) => {
    expect(() => aged(ref, fault)).toThrow(RangeError);
  });
});

/** One fault of each kind for a part, figures drawn about its own. */
const anyFault = (of: Part): fc.Arbitrary<Fault> => {
  const leads = Object.keys(leadsOf(of));
  const figure = fc.double({ min: 1e-12, max: 1e9, noNaN: true });
  const all = fc
    .tuple(figure, figure, fc.constantFrom(...leads), fc.constantFrom(...junctionNames))
    .chain(([value, esr, lead, junction]) => {
      const faults: Fault[] = [
        { kind: 'open' },
        { kind: 'short' },
        { kind: 'dried', value, esr },
        { kind: 'leaky', ohms: value },
        { kind: 'drifted', value },
        { kind: 'leaky_transistor', ICBO: value },
        { kind: 'low_hFE', hFE: value },
        { kind: 'noisy', corner: value },
        { kind: 'junction_open', junction },
        { kind: 'junction_short', junction },
        { kind: 'open_joint', lead },
        { kind: 'contact', lead, ohms: value },
        { kind: 'cracked_track', lead, beyond: circuit.parts.map(({ position }) => ({ position, lead: '1' })) },
        { kind: 'wiper_open' },
      ];
      return fc.constantFrom(...faults.filter((fault) => faultMismatch(of, fault) === null));
    });
  return all;
};

describe('any fault of any part', () => {
  it('leaves the circuit as it was, every designator once, and every other part its figures', () => {
    const before = JSON.stringify(circuit);
    const cases = fc.constantFrom(...circuit.parts).chain((of) => anyFault(of).map((fault) => ({ of, fault })));
    fc.assert(
      fc.property(cases, ({ of, fault }) => {
        const after = agePart(circuit, of.ref, fault);
        const refs = after.parts.map(({ ref }) => ref);
        expect(new Set(refs).size).toBe(refs.length);
        expect(JSON.stringify(circuit)).toBe(before);
        for (const other of circuit.parts) {
          if (other.ref === of.ref) continue;
          const there = part(after, other.ref)!;
          expect(Object.keys(leadsOf(there))).toEqual(Object.keys(leadsOf(other)));
          if (fault.kind !== 'cracked_track') expect(there).toBe(other);
        }
        expect(after.parts.every(({ position }) => board.positions.flat().includes(position))).toBe(true);
      }),
      { seed: 20261125, numRuns: 500 },
    );
  });
});
