import { circuitOf } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { designatorOf, designatorsIn, isOfFault } from '../src/designator.ts';
import { checkJob } from '../src/index.ts';
import { jobWith } from './equaliser-job.ts';
import { stageOf, valueOf } from './stages.ts';

const stageWith = (positions: string): ReturnType<typeof stageOf> =>
  stageOf(circuitOf(jobWith(positions), 'rebuilt')!.circuit);

describe('a designator', () => {
  const contact = 'C109: { pulled: { contact: 2 kΩ, lead: plus } }';

  it('is that of the part to which a contact belongs, and no value of a contact can be bought', () => {
    const { circuit } = stageWith(contact);
    const added = circuit.parts.find(({ ref }) => ref === 'C109.plus')!;
    expect([designatorOf(added), isOfFault(added)]).toEqual(['C109', true]);
    expect(circuit.parts.filter(isOfFault)).toEqual([added]);
  });

  it('of one of two parts in a position is its own', () => {
    const stage = stageWith('R109: { fit: [{ value: 4.7 kΩ }, { value: 5.6 kΩ }] }');
    expect(designatorsIn(stage, ['R109.1', 'R109.2'])).toEqual(['R109.1', 'R109.2']);
    expect(stage.circuit.parts.some(isOfFault)).toBe(false);
  });

  it('is of the channel that is asked for; a source is none', () => {
    const stage = stageWith(contact);
    expect(designatorsIn(stage, ['input@left', 'C110', 'C109.plus', 'C109'], 0)).toEqual(['C109']);
  });

  it.each([
    contact,
    'C109: { pulled: { faults: [open_joint], lead: plus } }',
    'C109: { pulled: { faults: [open_circuit] } }',
  ])('is what every finding names: %s', (positions) => {
    const { findings } = valueOf(checkJob(jobWith(positions)));
    expect(findings.some(({ ref, level }) => ref === 'C109' && level !== 'good')).toBe(true);
    for (const { ref, cause, next } of findings) {
      expect(ref).toMatch(/^[A-Z]+\d+[AB]?$/);
      expect(`${cause} ${next}`).not.toMatch(/C109\.plus|fit .* at C109$/);
    }
  });
});
