import { readFileSync } from 'node:fs';
import { readBoard, type Board } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import {
  atOnce,
  checkBoard,
  checkJob,
  stageJob,
  verdictSteps,
  type CheckAnswer,
  type Finding,
} from '../../src/index.ts';
import { jobOn, valueOf } from '../stages.ts';

const boardOf = (name: string): Board => {
  const file = `seeds/boards/${name}.board.yaml`;
  return valueOf(readBoard(readFileSync(file, 'utf8'), file));
};

const questions = ['rating', 'polarity', 'leads', 'seat', 'ceramic'];
const ofFit = ({ findings }: CheckAnswer): readonly Finding[] =>
  findings.filter(({ what }) => questions.includes(what));

describe('fit in the check', () => {
  it.each(['lk205', 'lk310', 'lk417', 'lk520', 'lk630'])('finds the drawn %s good', (name) => {
    const checked = valueOf(checkBoard(boardOf(name)));
    expect(checked.verdict).toBe('good');
    expect(ofFit(checked).filter(({ level }) => level !== 'good')).toEqual([]);
    // One for each question and channel at most.
    const asked = ofFit(checked).map(({ channel, what, where }) => `${channel} ${what} ${where}`);
    expect(new Set(asked).size).toBe(asked.length);
  });

  const board = boardOf('lk630');
  const film = 'build: film, value: 1 µF, tolerance: 10 %, leakage: 10 GΩ, loss: 0.005';
  const fits = (c101: string): string => `C101/C102: { fit: { ${film}${c101} } }`;
  it.each([
    ['good', ', rated: 63 V, body: { pitch: 5 mm, height: 12 mm, diameter: 8 mm }'],
    ['not measured', ', body: { pitch: 5 mm, height: 12 mm, diameter: 8 mm }'],
    ['not measured', ', rated: 63 V'],
    ['look', ', rated: 63 V, body: { pitch: 10 mm, height: 12 mm, diameter: 8 mm }'],
    ['fail', ', rated: 63 V, body: { pitch: 5 mm, height: 12.1 mm, diameter: 8 mm }'],
    ['fail', ', body: { pitch: 5 mm, height: 12.1 mm, diameter: 8 mm }'],
  ])('makes the verdict %s with a fitted part%s', (verdict, c101) => {
    const job = jobOn(board, fits(c101));
    const checked = valueOf(checkJob(job));
    expect(checked.verdict).toBe(verdict);
    expect(atOnce(verdictSteps(valueOf(stageJob(job))))).toBe(verdict);
    for (const { counts, state } of ofFit(checked)) expect(counts).toBe(state === 'rebuilt');
  });

  it('lists of what is good the part with the least share of its rating to spare', () => {
    const checked = valueOf(checkBoard(boardOf('lk417')));
    const listed = checked.findings.find(
      ({ what, where, channel }) => `${what} ${where} ${channel}` === 'rating Ptot left',
    );
    // The follower: 41.8 of 400 mW, where the others have under 14 of 300.
    expect(listed?.ref).toBe('Q105');
    const watts = checked.findings.find(
      ({ what, where, channel }) => `${what} ${where} ${channel}` === 'rating watts left',
    );
    // Its emitter resistor: 51 of 250 mW.
    expect(watts?.ref).toBe('R117');
  });

  it('judges what is found and drawn as context', () => {
    const job = jobOn(
      board,
      `C115: { pulled: { rated: 10 V }, fit: { build: aluminium, value: 100 µF, rated: 25 V } }
      ${fits(', rated: 63 V, body: { height: 9 mm }')}`,
    );
    const bad = ofFit(valueOf(checkJob(job))).filter(({ level }) => level !== 'good');
    expect(bad.map(({ state, counts, what, ref, level }) => [state, counts, what, ref, level])).toEqual([
      ['found', false, 'rating', 'C115', 'fail'],
    ]);
  });

  it('gives every finding a cause, a next step and a margin in a unit', () => {
    for (const finding of ofFit(valueOf(checkJob(jobOn(board, fits('')))))) {
      expect(finding.cause).toMatch(/\w/);
      expect(finding.next).toMatch(/\w/);
      expect(['V', 'mA', 'mW', 'mm', 'leads']).toContain(finding.unit);
      expect(Number.isNaN(finding.margin)).toBe(finding.level === 'not measured');
    }
  });
});
