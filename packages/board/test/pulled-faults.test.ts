import { describe, expect, it } from 'vitest';
import { agePart } from '../src/aged-part.ts';
import type { Circuit } from '../src/circuit.ts';
import type { Fault } from '../src/fault.ts';
import { circuitOf, type StateCircuit } from '../src/states.ts';
import { board, faultWords, jobFrom, jobText, outcomeOf } from './job-texts.ts';

const positions = (text: string): string => jobText(`positions: { ${text} }`);

function state(text: string, name: 'found' | 'rebuilt' = 'found'): StateCircuit {
  const view = circuitOf(jobFrom(positions(text)), name);
  if (view === null) throw new Error(`no state ${name}`);
  return view;
}

/** A circuit without the places in files, which differ between a board's part and a job's. */
function withoutPlaces(circuit: Circuit): unknown {
  return JSON.parse(JSON.stringify(circuit, (key, value: unknown) => (key === 'place' ? undefined : value)));
}

const drawnWith = (...faults: readonly (readonly [string, Fault])[]): Circuit =>
  faults.reduce((circuit, [ref, fault]) => agePart(circuit, ref, fault), board.circuit);

describe('what a job says of a pulled part', () => {
  it.each<[string, string, Fault]>([
    ['{ faults: [open_circuit] }', 'C101', { kind: 'open' }],
    ['{ faults: [short_circuit] }', 'C101', { kind: 'short' }],
    ['{ value: 0.1 µF, esr: 90 Ω, faults: [dried] }', 'C101', { kind: 'dried', value: 0.1e-6, esr: 90 }],
    ['{ leakage: 400 kΩ, faults: [leaky] }', 'C101', { kind: 'leaky', ohms: 400e3 }],
    ['{ value: 51 kΩ }', 'R101', { kind: 'drifted', value: 51e3 }],
    ['{ ICBO: 10 µA, faults: [leaky] }', 'Q101', { kind: 'leaky_transistor', ICBO: 10e-6 }],
    ['{ noise_corner: 5 kHz, faults: [noisy] }', 'Q101', { kind: 'noisy', corner: 5e3 }],
    [
      '{ faults: [junction_open], junction: base_emitter }',
      'Q101',
      { kind: 'junction_open', junction: 'base_emitter' },
    ],
    ['{ faults: [junction_short], junction: gate_drain }', 'J101', { kind: 'junction_short', junction: 'gate_drain' }],
    ['{ faults: [open_joint], lead: base }', 'Q101', { kind: 'open_joint', lead: 'base' }],
    ['{ faults: [open_joint] }', 'L101', { kind: 'open_joint', lead: '1' }],
    ['{ faults: [open_joint], lead: 2 }', 'R101', { kind: 'open_joint', lead: '2' }],
    ['{ contact: 30 Ω, lead: base }', 'Q101', { kind: 'contact', lead: 'base', ohms: 30 }],
    ['{ contact: 30 Ω, faults: [intermittent] }', 'S101', { kind: 'contact', lead: 'pole', ohms: 30 }],
    ['{ contact: 2 kΩ }', 'VR101', { kind: 'contact', lead: 'wiper', ohms: 2e3 }],
    ['{ faults: [wiper_open] }', 'VR101', { kind: 'wiper_open' }],
    [
      '{ faults: [cracked_track], lead: base, beyond: [C101.plus] }',
      'Q101',
      { kind: 'cracked_track', lead: 'base', beyond: [{ position: 'C101', lead: 'plus' }] },
    ],
  ])('%s of %s', (pulled, ref, fault) => {
    const { circuit, notes } = state(`${ref}: { pulled: ${pulled} }`);
    expect(withoutPlaces(circuit)).toEqual(withoutPlaces(drawnWith([ref, fault])));
    expect(notes).toEqual([]);
  });

  it('may be several things, whatever their order', () => {
    const expected = drawnWith(
      ['Q101', { kind: 'open_joint', lead: 'base' }],
      ['Q101', { kind: 'leaky_transistor', ICBO: 1e-6 }],
      ['Q101', { kind: 'junction_short', junction: 'collector_emitter' }],
    );
    for (const faults of ['[open_joint, junction_short]', '[junction_short, open_joint]']) {
      const pulled = `{ faults: ${faults}, lead: base, junction: collector_emitter, ICBO: 1 µA }`;
      expect(withoutPlaces(state(`Q101: { pulled: ${pulled} }`).circuit)).toEqual(withoutPlaces(expected));
    }
  });

  it('cracks tracks before joints of other positions come off', () => {
    const crack = 'Q101: { pulled: { faults: [cracked_track], lead: base, beyond: [C101.plus] } }';
    const joint = 'C101: { pulled: { faults: [open_joint], lead: plus } }';
    const { circuit } = state(`${joint}, ${crack}`);
    expect(circuit.parts.find(({ ref }) => ref === 'C101.plus')).toMatchObject({
      between: ['Q101.base@left', 'C101.plus@left'],
    });
  });

  it('is only noted where it has no figure', () => {
    expect(state('C101: { pulled: { faults: [dried] } }, R101: { pulled: { faults: [dried, noisy] } }').notes).toEqual([
      'R101: dried; kept, not computed',
      'R101: noisy, with no noise_index stated; kept, not computed',
      'C101: dried, with no value or esr stated; kept, not computed',
    ]);
  });

  it('is told in the words of the change', () => {
    const words = (pulled: string, ref: string): string =>
      state(`${ref}: { pulled: ${pulled} }`)
        .changed.map(({ description }) => description)
        .join();
    expect(words('{ faults: [open_joint], lead: base, ICBO: 10 µA }', 'Q101')).toBe(
      'HN-A, joint of base open, ICBO 10 µA instead of HN-A',
    );
    expect(words('{ contact: 30 Ω }', 'S101')).toBe('at riaa, 30 Ω in the contact of pole instead of at riaa');
    expect(words('{ faults: [junction_short], junction: base_emitter }', 'Q101')).toBe(
      'HN-A, base-emitter short instead of HN-A',
    );
  });
});

describe('a fault half said, or of another part', () => {
  it.each([
    ['Q101', '{ faults: [open_joint] }', 'fit-mismatch at ['],
    ['Q101', '{ contact: 30 Ω }', 'fit-mismatch at 30'],
    ['Q101', '{ lead: base }', 'fit-mismatch at base'],
    ['Q101', '{ faults: [open_joint], lead: gate }', 'fit-mismatch at gate'],
    ['Q101', '{ faults: [open_joint], lead: constructor }', 'fit-mismatch at constructor'],
    ['Q101', '{ faults: [cracked_track], lead: constructor, beyond: [C101.plus] }', 'fit-mismatch at constructor'],
    ['Q101', '{ faults: [junction_open] }', 'fit-mismatch at ['],
    ['Q101', '{ junction: base_emitter }', 'fit-mismatch at base_emitter'],
    ['Q101', '{ faults: [junction_open], junction: collector_emitter }', 'fit-mismatch at collector_emitter'],
    ['Q101', '{ faults: [junction_open], junction: base }', 'wrong-form at base'],
    ['Q101', '{ faults: [wiper_open] }', 'fit-mismatch at ['],
    ['R101', '{ ICBO: 1 µA }', 'fit-mismatch at 1'],
    ['Q101', '{ ICBO: 0 A }', 'out-of-range at 0'],
    ['Q101', '{ faults: [open_joint], lead: base, beyond: [C101.plus] }', 'fit-mismatch at ['],
    ['Q101', '{ faults: [cracked_track], lead: base, beyond: [C102.plus] }', 'fit-mismatch at ['],
    ['Q101', '{ faults: [cracked_track], lead: base, beyond: [C101.plsu] }', 'unknown-node at ['],
    ['VR101', '{ faults: [wiper_open, open_circuit] }', 'fit-mismatch at ['],
  ])('%s %s', (ref, pulled, fault) => {
    expect(faultWords(positions(`${ref}: { pulled: ${pulled} }`))).toEqual([fault]);
  });

  it('says which leads there are, and which neighbours', () => {
    const message = (pulled: string): string => {
      const outcome = outcomeOf(positions(`Q101: { pulled: ${pulled} }`), board);
      return outcome.ok ? '' : outcome.diagnostics.map((each) => each.message).join('\n');
    };
    expect(message('{ faults: [open_joint] }')).toMatch(/write lead: and one of collector, base, emitter/);
    expect(message('{ faults: [cracked_track], lead: base, beyond: [R101.1] }')).toBe(
      'R101.1 stands on in@left, and Q101.base on b1@left; write leads of that node: C101.plus, Q101.base',
    );
  });
});

describe('mended', () => {
  it('has the joint whole and the part as it was pulled', () => {
    const text = 'Q101: { pulled: { hFE: 90, ICBO: 1 µA, faults: [open_joint], lead: base }, mended: true }';
    const { circuit, changed } = state(text, 'rebuilt');
    expect(circuit.parts.find(({ ref }) => ref === 'Q101')).toMatchObject({
      leads: { base: 'b1@left' },
      type: { hFE: [{ value: 90 }], ICBO: 1e-6 },
    });
    expect(circuit.parts).toHaveLength(board.circuit.parts.length);
    expect(changed.map(({ description }) => description)).toEqual(['HN-A, ICBO 1 µA instead of HN-A, mended']);
    expect(state(text, 'found').circuit.parts.some(({ ref }) => ref === 'Q101.base')).toBe(true);
    const contact = state('S101: { pulled: { contact: 30 Ω }, mended: true }', 'rebuilt');
    expect(contact.changed.map(({ description }) => description)).toEqual(['at riaa, mended']);
  });

  it('is not there without it: the joint is still open in the rebuilt state', () => {
    const { circuit } = state('Q101: { pulled: { faults: [open_joint], lead: base } }', 'rebuilt');
    expect(circuit.parts.some(({ ref }) => ref === 'Q101.base')).toBe(true);
  });

  it.each([
    ['nothing to mend', 'Q101: { mended: true }'],
    ['a part that is at fault itself', 'Q101: { pulled: { ICBO: 1 µA }, mended: true }'],
    ['a part that is fitted', 'Q101: { pulled: { contact: 1 Ω, lead: base }, fit: { type: HN-A }, mended: true }'],
  ])('refuses %s', (_, text) => {
    expect(faultWords(positions(text))).toEqual(['fit-mismatch at true']);
  });
});
