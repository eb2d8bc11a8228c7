import { describe, expect, it } from 'vitest';
import { checkBoard, checkJob, levelOf, marginTo, worstLevel, type CheckAnswer } from '../src/index.ts';
import { contextOf, equaliser, figureOf, jobWith } from './equaliser-job.ts';
import { jobOn, monoBoard, valueOf } from './stages.ts';

const check = (positions: string): CheckAnswer => valueOf(checkJob(jobWith(positions)));

describe('checkBoard', () => {
  const answer = valueOf(checkBoard(equaliser));

  it('judges a plain board by its drawn state', () => {
    expect(answer.states).toMatchObject({ found: null, rebuilt: null, measured: null });
    expect(answer.states.drawn.assumed).toEqual([]);
    expect(answer.findings.length).toBeGreaterThan(0);
    expect(answer.findings.every(({ state, counts }) => state === 'drawn' && counts)).toBe(true);
    expect(answer.findings.map(({ what }) => what)).not.toContain('gain');
    expect(answer.verdict).toBe('good');
  });

  it('obeys the limits that the board states', () => {
    const strict = valueOf(checkBoard({ ...equaliser, limits: { deviation: { good: 0.01, look: 0.02 } } }));
    expect(strict.limits.deviation).toMatchObject({ good: 0.01, look: 0.02, from: 30, to: 15_000 });
    expect(strict.verdict).toBe('fail');
  });

  it('hands on what keeps a board from having a bias', () => {
    const floating = monoBoard('C1: { kind: capacitor, value: 1 µF, between: [in, out] }');
    const outcome = checkBoard(floating);
    expect(outcome.ok ? [] : outcome.diagnostics.map(({ code }) => code)).toEqual(['no-dc-path']);
  });
});

describe('checkJob', () => {
  it('rests on the rebuilt state; findings on the others are context', () => {
    const answer = check('C109/C110: { pulled: { value: 0.33 µF }, fit: { build: film, value: 4.7 µF, rated: 63 V } }');
    const found = answer.findings.filter(({ state }) => state === 'found');
    expect(worstLevel(found.map(({ level }) => level))).toBe('fail');
    expect(answer.findings.every(({ state, counts }) => counts === (state === 'rebuilt'))).toBe(true);
    expect(answer.verdict).toBe('good');
    // The positions of which nothing was pulled are taken as drawn.
    expect(answer.states.found!.assumed).toContain('R101');
    expect(answer.states.found!.assumed).not.toContain('C110');
  });

  it('has no found state where nothing was pulled', () => {
    expect(check('C109: { fit: { value: 10 µF } }').states.found).toBeNull();
  });

  it('takes level and margin of a finding from its figure', () => {
    const positions = 'C109/C110: { fit: { build: film, value: 1 µF } }';
    const context = contextOf(jobWith(positions));
    const finding = check(positions).findings.find(
      ({ what, channel, state }) => what === 'bass' && channel === 'right' && state === 'rebuilt',
    )!;
    const figure = figureOf(context, 'bass', 1);
    expect(finding).toMatchObject({ level: levelOf(figure), unit: 'dB', where: 'at 20 Hz', ref: 'C110' });
    expect(finding.value).toBeCloseTo(figure.value, 12);
    expect(finding.margin).toBeCloseTo(marginTo(figure, figure.good), 12);
    expect(finding.margin).toBeLessThan(0);
  });

  it('reports a found state without a bias and goes on; refuses a rebuilt one', () => {
    const board = monoBoard(`
      R1: { kind: resistor, value: 47 kΩ, between: [in, gnd] }
      R2: { kind: resistor, value: 10 kΩ, between: [in, out] }`);
    const shorted = 'R1: { pulled: { faults: [short_circuit] }, fit: { value: 47 kΩ } }';
    const answer = valueOf(checkJob(jobOn(board, shorted)));
    expect(answer.states.found).toBeNull();
    expect(answer.states.rebuilt).not.toBeNull();
    // A link across the source that drives the input.
    expect(answer.unsolved.map(({ code }) => code)).toEqual(['rail-loop']);
    expect(answer.findings.some(({ state }) => state === 'found')).toBe(false);
    const refused = checkJob(jobWith('R110: { fit: none }'));
    expect(refused.ok ? [] : refused.diagnostics.map(({ code }) => code)).toEqual(['no-dc-path']);
  });

  it('lists of the good node voltages the tightest alone, and every one that is not good', () => {
    const board = monoBoard(
      `
      R1: { kind: resistor, value: 10 kΩ, between: [in, out] }
      R2: { kind: resistor, value: 1 kΩ, between: [vcc, v] }
      R3: { kind: resistor, value: 1 kΩ, between: [v, w] }
      R4: { kind: resistor, value: 1 kΩ, between: [w, gnd] }`,
      'rails: { vcc: { volts: 9 V } }',
    );
    const nodes = (ohms: string): readonly string[] =>
      valueOf(checkJob(jobOn(board, `R2: { fit: { value: ${ohms} } }`)))
        .findings.filter(({ what, state }) => what === 'node_volts' && state === 'rebuilt')
        .map(({ where, level }) => `${where}: ${level}`);
    // v and w both fall by the same share: 3/3.1 and 3/4.
    expect(nodes('1.1 kΩ')).toHaveLength(1);
    expect(nodes('1.1 kΩ')[0]).toMatch(/good$/);
    expect(nodes('2 kΩ')).toEqual(['node v against drawn: fail', 'node w against drawn: fail']);
  });

  it('carries what the job says and no computation takes up', () => {
    const answer = check('C109: { pulled: { faults: [intermittent] }, fit: { value: 4.7 µF } }');
    expect(answer.states.found!.notes).toEqual(['C109: intermittent; kept, not computed']);
    expect(answer.states.rebuilt!.notes).toEqual([]);
  });

  it('shows how well the equations are fulfilled', () => {
    const { residuals } = check('C109: { fit: { value: 1 µF } }').states.rebuilt!;
    // What rounding allows at a node is its unit; a backward-stable solve leaves some n·eps.
    expect(residuals.kirchhoffRatio).toBeLessThanOrEqual(1);
    expect(residuals.response).toBeLessThan(1e-13);
  });
});
