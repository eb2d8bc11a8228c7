import { describe, expect, it } from 'vitest';
import { checkJob, checkSteps, stageBoard, stageJob, verdictSteps, type CheckMemory } from '../src/index.ts';
import { atOnce, within, type Steps } from '../src/steps.ts';
import { equaliser, jobWith } from './equaliser-job.ts';
import { valueOf } from './stages.ts';

const swap = (value: string, pulled: string = '2.2 µF'): string =>
  `C109/C110: { pulled: { value: ${pulled} }, fit: { build: film, value: ${value} } }`;

describe('stageJob', () => {
  const first = valueOf(stageJob(jobWith(swap('4.7 µF'))));

  it('takes from the job before what is the same in this one, wherever it stands in the file', () => {
    const next = valueOf(stageJob(jobWith(`R109: { why: left in }\n${swap('1 µF')}`), first));
    expect(next.states.map(({ state }) => state)).toEqual(['drawn', 'found', 'rebuilt']);
    expect(next.states.map((each, n) => each === first.states[n])).toEqual([true, true, false]);
    const back = valueOf(stageJob(jobWith(swap('4.7 µF')), next));
    expect(back.states[2]!.content).toBe(first.states[2]!.content);
  });

  it('takes nothing where the limits are others', () => {
    const job = jobWith(swap('4.7 µF'));
    const strict = { ...job, limits: { ...job.limits, gain: { good: 0.1, look: 0.2 } } };
    expect(valueOf(stageJob(strict, first)).states.some((each) => first.states.includes(each))).toBe(false);
  });
});

describe('checkSteps', () => {
  it('answers as a whole check does, also with the memory of the check before', () => {
    const memory: CheckMemory = new WeakMap();
    const first = valueOf(stageJob(jobWith(swap('4.7 µF'))));
    expect(atOnce(checkSteps(first, memory))).toEqual(valueOf(checkJob(jobWith(swap('4.7 µF')))));
    const next = valueOf(stageJob(jobWith(swap('0.1 µF')), first));
    expect(next.states[0]).toBe(first.states[0]);
    const answer = atOnce(checkSteps(next, memory));
    expect(answer).toEqual(valueOf(checkJob(jobWith(swap('0.1 µF')))));
    expect(answer.verdict).toBe('fail');
  });

  it('yields growing shares up to 1, many of them', () => {
    const shares = [...checkSteps(valueOf(stageJob(jobWith(swap('4.7 µF')))))];
    expect(shares).toEqual(shares.toSorted((a, b) => a - b));
    expect(shares.at(-1)).toBeLessThanOrEqual(1);
    expect(shares.length).toBeGreaterThan(20);
  });
});

describe('verdictSteps', () => {
  it.each(['4.7 µF', '0.68 µF', '0.1 µF'])('is the verdict of the whole check with %s fitted', (value) => {
    const staged = valueOf(stageJob(jobWith(swap(value))));
    expect(atOnce(verdictSteps(staged))).toBe(atOnce(checkSteps(staged)).verdict);
  });

  it('holds gain against the drawn board', () => {
    // An arm of 1.4 times the impedance: the same curve, 2.9 dB more of it.
    const arm = `
      R103/R104: { fit: { value: ${286.2 * 1.4} kΩ } }
      C103/C104: { fit: { value: ${3180e3 / 286_200 / 1.4} nF } }
      R105/R106: { fit: { value: ${24.3 * 1.4} kΩ } }
      C105/C106: { fit: { value: ${75e3 / 24_300 / 1.4} nF } }`;
    expect(atOnce(verdictSteps(valueOf(stageJob(jobWith(arm)))))).toBe('fail');
  });

  it('speaks of a board alone', () => {
    const strict = { ...equaliser, limits: { deviation: { good: 0.01, look: 0.02 } } };
    expect(atOnce(verdictSteps(valueOf(stageBoard(equaliser))))).toBe('good');
    expect(atOnce(verdictSteps(valueOf(stageBoard(strict))))).toBe('fail');
  });
});

describe('within', () => {
  it('puts the shares of a part into those of the whole, and hands on its answer', () => {
    function* half(): Steps<string> {
      yield 0;
      yield 0.5;
      return 'done';
    }
    const steps = within(0.2, 0.6, half());
    expect([steps.next(), steps.next(), steps.next()]).toEqual([
      { done: false, value: 0.2 },
      { done: false, value: 0.4 },
      { done: true, value: 'done' },
    ]);
  });
});
