import { describe, expect, it } from 'vitest';
import type { Circuit, Part } from '../src/circuit.ts';
import { circuitOf, circuitWithOnly, circuitWithValue } from '../src/states.ts';
import { board, faultWords, jobFrom, jobText, wholeJob } from './job-texts.ts';

const job = jobFrom(wholeJob);
const part = (circuit: Circuit | undefined, ref: string): Part | undefined =>
  circuit?.parts.find((each) => each.ref === ref);

/** The found state of a job with these positions. */
function found(positions: string): ReturnType<typeof circuitOf> {
  return circuitOf(jobFrom(jobText(`positions: { ${positions} }`)), 'found');
}

describe('the drawn state', () => {
  it('is the board', () => {
    expect(circuitOf(job, 'drawn')).toEqual({ circuit: board.circuit, assumed: [], changed: [], notes: [] });
  });

  it('is as warm as the job says', () => {
    const warm = jobFrom(wholeJob.replace('ambient: 25 °C', 'ambient: 45 °C'));
    expect(circuitOf(warm, 'drawn')?.circuit).toEqual({ ...board.circuit, ambient: 318.15 });
  });
});

describe('the found state', () => {
  it('is null where nothing was pulled', () => {
    expect(found('C101: { fit: { value: 1 µF } }, R101: { why: x }')).toBeNull();
    expect(circuitOf(jobFrom(jobText('')), 'found')).toBeNull();
  });

  it('lays what was pulled over the drawing, and says what it takes as drawn', () => {
    const state = circuitOf(job, 'found');
    const { place: _, ...drawn } = part(board.circuit, 'C101')!;
    expect(part(state?.circuit, 'C101')).toMatchObject({ ...drawn, farads: 0.91e-6, leakage: 400e3 });
    expect(part(state?.circuit, 'Q101')).toBe(part(board.circuit, 'Q101'));
    expect(part(state?.circuit, 'R199')).toBeUndefined();
    expect(state?.assumed).toEqual(board.positions.flat().filter((ref) => ref !== 'C101' && ref !== 'C102'));
    expect(state?.changed).toEqual(
      ['C101', 'C102'].map((position) => ({
        position,
        description: '0.91 µF tantalum, ESR 4 Ω, leakage 400 kΩ instead of 0.68 µF tantalum, ESR 4 Ω, leakage 70 MΩ',
      })),
    );
  });

  it('has a gap in place of an open part, and 0 Ω in place of a short one', () => {
    const open = found('C101: { pulled: { faults: [open_circuit] } }, Q101: { pulled: { faults: [open_circuit] } }');
    expect(part(open?.circuit, 'C101')).toMatchObject({
      kind: 'resistor',
      ohms: 100e9,
      between: ['b1@left', 'in@left'],
    });
    expect(part(open?.circuit, 'Q101')).toBeUndefined();
    expect(open?.changed.map(({ description }) => description)).toEqual([
      '0.68 µF tantalum, ESR 4 Ω, leakage 70 MΩ, open circuit instead of 0.68 µF tantalum, ESR 4 Ω, leakage 70 MΩ',
      'HN-A, open circuit instead of HN-A',
    ]);
    const short = found('C101: { pulled: { faults: [short_circuit] } }, D103: { pulled: { faults: [short_circuit] } }');
    expect(part(short?.circuit, 'C101')).toMatchObject({ kind: 'resistor', ohms: 0, between: ['b1@left', 'in@left'] });
    expect(part(short?.circuit, 'D103')).toMatchObject({ kind: 'resistor', ohms: 0, between: ['vq', 'gnd'] });
  });

  it('cannot tell which leads of three are short, nor open and short at once', () => {
    const fault = (faults: string, ref = 'Q101'): readonly string[] =>
      faultWords(jobText(`positions: { ${ref}: { pulled: { faults: ${faults} } } }`));
    expect(fault('[short_circuit]')).toEqual(['fit-mismatch at [']);
    expect(fault('[short_circuit]', 'S101')).toEqual(['fit-mismatch at [']);
    expect(fault('[short_circuit]', 'VR101')).toEqual(['fit-mismatch at [']);
    expect(fault('[short_circuit, open_circuit]', 'R101')).toEqual(['fit-mismatch at [']);
    expect(fault('[short_circuit]', 'L101')).toEqual([]);
  });

  it('notes what it keeps and cannot compute', () => {
    const state = found(
      'Q101: { pulled: { hFE: 90, faults: [noisy, leaky] } }, Q102: { pulled: { ICBO: 2 µA, noise_corner: 5 kHz, faults: [noisy, leaky] } }, C101: { pulled: { faults: [leaky, intermittent] } }, C102: { pulled: { leakage: 1 MΩ, faults: [leaky] } }',
    );
    expect(state?.notes).toEqual([
      'C101: leaky, with no leakage stated; kept, not computed',
      'C101: intermittent; kept, not computed',
      'Q101: noisy, with no noise_corner stated; kept, not computed',
      'Q101: leaky, with no ICBO stated; kept, not computed',
    ]);
    expect(part(state?.circuit, 'Q101')).toMatchObject({ type: { hFE: [{ value: 90, at: 0 }], earlyVoltage: 90 } });
    expect(part(state?.circuit, 'Q102')).toMatchObject({ type: { ICBO: 2e-6, noiseCorner: 5e3, earlyVoltage: 90 } });
  });

  it('may hold another type than the drawing, put in the wrong way', () => {
    const state = found('Q101: { pulled: { inserted: BCE } }, D103: { pulled: { type: DS-A } }');
    expect(part(state?.circuit, 'Q101')).toMatchObject({ leads: { collector: 'c1@left', base: 'e1@left' } });
    expect(part(state?.circuit, 'D103')).toMatchObject({ typeName: 'DS-A' });
  });
});

describe('the rebuilt state', () => {
  it('has what is fitted, else what was pulled, else what is drawn, and what is added', () => {
    const positions = 'C101: { pulled: { value: 0.5 µF }, fit: { value: 1 µF } }, C102: { pulled: { value: 0.4 µF } }';
    const circuit = circuitOf(jobFrom(jobText(`positions: { ${positions} }`)), 'rebuilt')?.circuit;
    expect(part(circuit, 'C101')).toMatchObject({ farads: 1e-6 });
    expect(part(circuit, 'C102')).toMatchObject({ farads: 0.4e-6 });
    expect(part(circuit, 'C103')).toBe(part(board.circuit, 'C103'));
    expect(part(circuitOf(job, 'rebuilt')?.circuit, 'R199')).toMatchObject({ ohms: 100e3, between: ['vq', 'gnd'] });
  });

  it('leaves a place empty for none', () => {
    const state = circuitOf(jobFrom(jobText('positions: { C101: { fit: none } }')), 'rebuilt');
    expect(part(state?.circuit, 'C101')).toBeUndefined();
    expect(state?.changed[0]?.description).toMatch(/^nothing instead of 0.68 µF/);
  });

  it('tells what changed, one line for each designator', () => {
    const state = circuitOf(job, 'rebuilt');
    expect(state?.assumed).toEqual([]);
    expect(state?.changed.map(({ position, description }) => `${position}: ${description}`)).toEqual([
      'C101: 1 µF film instead of 0.68 µF tantalum, ESR 4 Ω, leakage 70 MΩ',
      'C102: 1 µF film instead of 0.68 µF tantalum, ESR 4 Ω, leakage 70 MΩ',
      'Q101: HN-B instead of HN-A',
      'Q102: HN-B instead of HN-A',
      'D103: DS-A + DS-A instead of DB-A',
      'R199: 100 kΩ, added',
    ]);
  });

  it('tells parts side by side from parts in series', () => {
    const text = jobText('positions: { R101: { fit: { parallel: [{ value: 100 kΩ }, { value: 91 kΩ }] } } }');
    expect(circuitOf(jobFrom(text), 'rebuilt')?.changed[0]?.description).toBe(
      '100 kΩ ∥ 91 kΩ instead of 47 kΩ carbon film',
    );
  });
});

describe('one change at a time', () => {
  const all = [...board.positions.flat(), 'R199'];

  it('puts only the chosen positions to what the rebuilt state has', () => {
    const circuit = circuitWithOnly(job, ['D103']);
    expect(part(circuit, 'D103.1')).toBeDefined();
    expect(circuit.common).toEqual(['vq', 'D103.1-2']);
    expect(part(circuit, 'C101')).toBe(part(board.circuit, 'C101'));
    expect(part(circuit, 'R199')).toBeUndefined();
    expect(part(circuitWithOnly(job, ['R199']), 'R199')).toBeDefined();
  });

  it('meets the states at both ends', () => {
    expect(circuitWithOnly(job, [])).toEqual(board.circuit);
    expect(circuitWithOnly(job, all)).toEqual(circuitOf(job, 'rebuilt')?.circuit);
  });

  it('refuses a designator that is nowhere', () => {
    expect(() => circuitWithOnly(job, ['R999'])).toThrow(RangeError);
    expect(() => circuitWithOnly(job, ['D103.1'])).toThrow(RangeError);
  });

  it('sets one value', () => {
    const { circuit } = board;
    expect(part(circuitWithValue(circuit, 'R101', 46e3), 'R101')).toMatchObject({ ohms: 46e3 });
    expect(part(circuitWithValue(circuit, 'C101', 1e-6), 'C101')).toMatchObject({ farads: 1e-6 });
    expect(part(circuitWithValue(circuit, 'L101', 1e-3), 'L101')).toMatchObject({ henries: 1e-3, ohms: 3 });
    expect(part(circuitWithValue(circuit, 'VR101', 5e3), 'VR101')).toMatchObject({ ohms: 5e3 });
    expect(() => circuitWithValue(circuit, 'Q101', 1)).toThrow(RangeError);
    expect(() => circuitWithValue(circuit, 'R999', 1)).toThrow(RangeError);
  });
});
