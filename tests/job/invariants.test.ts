import { circuitOf, readBoard, type Circuit, type Job } from '@curvewright/board';
import { checkJob, gainReader, solveStage, type CheckAnswer, type Finding } from '@curvewright/verify';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boardText, seedBoard, seedJob, valueOf } from '../seeds/read-seeds.ts';
import { fitLike, fits, jobWith, parts, twinOf, type Fits } from './random-jobs.ts';

const seed = 20261125;

/** Two solves of one stage with the unknowns in another order part by rounding over a condition of some 1e6: 1e-10 of a gain, 1e-9 dB. */
const rounding = 1e-9;

const frequencies = [2, 5, 10, 20, 30, 100, 1000, 10_000, 20_000, 100_000];

/** dB of each channel at every frequency. */
function levels(circuit: Circuit): readonly (readonly number[])[] {
  const reader = gainReader(valueOf(solveStage(circuit)));
  return circuit.channels.map((_, i) => frequencies.map((hz) => reader.gainDb(i, hz)));
}

const rebuilt = (job: Job): Circuit => circuitOf(job, 'rebuilt')!.circuit;

function furthest(a: readonly number[], b: readonly number[]): number {
  return Math.max(...a.map((each, i) => Math.abs(each - b[i]!)));
}

/** Freezes all that a value holds; whoever writes to it afterwards throws. */
function frozen<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    Object.values(value).forEach(frozen);
  }
  return value;
}

/** The lines of the board file's parts in another order. */
function reordered(text: string, keys: readonly number[]): string {
  const [head, body, tail] = /^([\s\S]*\nparts:\n)([\s\S]*?\n)(types:\n[\s\S]*)$/.exec(text)!.slice(1) as [
    string,
    string,
    string,
  ];
  const entries = body.replace(/^ {2}#.*\n/gm, '').split(/^(?= {2}\S)/m);
  const order = entries.map((entry, i) => ({ entry, key: keys[i % keys.length]! })).toSorted((a, b) => a.key - b.key);
  return head + order.map(({ entry }) => entry).join('') + tail;
}

describe('a job that fits what is drawn', () => {
  const drawn = levels(circuitOf(jobWith({ R101: '{ value: 100 kΩ }' }), 'drawn')!.circuit);

  it('comes out as drawn, whatever positions it names', () => {
    fc.assert(
      fc.property(fc.subarray([...parts], { minLength: 1 }), (chosen) => {
        const job = jobWith(Object.fromEntries(chosen.map((part) => [part.ref, fitLike(part)])));
        levels(rebuilt(job)).forEach((channel, i) => {
          expect(furthest(channel, drawn[i]!)).toBeLessThan(rounding);
        });
      }),
      { seed, numRuns: 15 },
    );
  });

  it('is judged as drawn: no change of gain, no node moved, the same verdict', () => {
    const answer = valueOf(checkJob(jobWith(Object.fromEntries(parts.map((part) => [part.ref, fitLike(part)])))));
    const of = (state: string): readonly Finding[] => answer.findings.filter((each) => each.state === state);
    for (const { value } of of('rebuilt').filter(({ what }) => what === 'gain' || what === 'node_volts')) {
      expect(Math.abs(value)).toBeLessThan(rounding);
    }
    const told = (state: string): readonly string[] =>
      of(state)
        // Whether it goes in and the right way round is asked of fitted parts alone.
        .filter(({ what }) => !['gain', 'node_volts', 'seat', 'leads', 'polarity'].includes(what))
        .map(({ what, channel, level, cause }) => `${what} ${channel ?? ''} ${level} ${cause}`);
    expect(told('rebuilt')).toEqual(told('drawn'));
    expect(answer.verdict).toBe('good');
  });
});

describe('left and right', () => {
  const exchanged = (chosen: Fits): Fits =>
    Object.fromEntries(Object.entries(chosen).map(([ref, fit]) => [twinOf(ref), fit]));

  it('exchange their answers when a job exchanges its designators', () => {
    fc.assert(
      fc.property(fits, (chosen) => {
        const [left, right] = levels(rebuilt(jobWith(chosen)));
        const [otherLeft, otherRight] = levels(rebuilt(jobWith(exchanged(chosen))));
        expect(furthest(left!, otherRight!)).toBeLessThan(rounding);
        expect(furthest(right!, otherLeft!)).toBeLessThan(rounding);
      }),
      { seed, numRuns: 30 },
    );
  });

  it('exchange their findings with it', { timeout: 120_000 }, () => {
    const of = (answer: CheckAnswer, channel: string): readonly string[] =>
      answer.findings
        .filter((each) => each.channel === channel && each.what !== 'node_volts')
        .map(({ what, state, level }) => `${state} ${what} ${level}`);
    fc.assert(
      fc.property(fits, (chosen) => {
        const [one, other] = [chosen, exchanged(chosen)].map((each) => valueOf(checkJob(jobWith(each)))) as [
          CheckAnswer,
          CheckAnswer,
        ];
        expect(of(other, 'left')).toEqual(of(one, 'right'));
        expect(of(other, 'right')).toEqual(of(one, 'left'));
        expect(other.verdict).toBe(one.verdict);
      }),
      { seed, numRuns: 2, endOnFailure: true },
    );
  });

  it('do not touch each other but through what they share: swaps on the left leave the right where it was', () => {
    // The supply decoupler and the bias diode join the channels below 1e-2 dB; 20 Hz up.
    const own = parts.filter(({ channel, kind }) => channel === 'left' && kind === 'capacitor');
    const upwards = frequencies.map((hz, i) => ({ hz, i })).filter(({ hz }) => hz >= 20);
    const [, right] = levels(seedBoard('lk417').circuit);
    fc.assert(
      fc.property(fc.constantFrom(...own), fc.double({ min: 0.5, max: 2, noNaN: true }), (part, factor) => {
        const [, now] = levels(rebuilt(jobWith({ [part.ref]: fitLike(part, factor) })));
        for (const { i } of upwards) expect(Math.abs(now![i]! - right![i]!)).toBeLessThan(1e-2);
      }),
      { seed, numRuns: 15 },
    );
  });
});

describe('the order of a file', () => {
  it('does not matter: neither that of the parts nor that of the positions', () => {
    const text = boardText('lk417');
    fc.assert(
      fc.property(fits, fc.array(fc.nat(), { minLength: 40, maxLength: 40 }), (chosen, keys) => {
        const board = valueOf(readBoard(reordered(text, keys), 'lk417.board.yaml'));
        expect(board.circuit.parts).toHaveLength(parts.length);
        const backwards = Object.fromEntries(Object.entries(chosen).toReversed());
        const other = levels(rebuilt(jobWith(backwards, board)));
        levels(rebuilt(jobWith(chosen))).forEach((channel, i) => {
          expect(furthest(channel, other[i]!)).toBeLessThan(rounding);
        });
      }),
      { seed, numRuns: 20 },
    );
  });
});

describe('a check', () => {
  it('changes nothing of the job that it is given, and answers the same again', () => {
    const job = frozen(seedJob());
    const before = JSON.stringify(job);
    const first = JSON.stringify(valueOf(checkJob(job)));
    expect(JSON.stringify(valueOf(checkJob(job)))).toBe(first);
    expect(JSON.stringify(job)).toBe(before);
  });

  it(
    'offers only what mends: every part it says to fit is good when solved anew, and nothing else gets worse',
    { timeout: 180_000 },
    () => {
      const ranks = ['good', 'look', 'not measured', 'fail'];
      const key = ({ what, channel, ref, where, unit, bound }: Finding): string =>
        `${what} ${channel ?? ''} ${what === 'node_volts' || bound !== undefined ? where : ''} ${bound === undefined ? '' : ref} ${unit}`;
      let offers = 0;
      const check = (chosen: Fits): readonly Finding[] =>
        valueOf(checkJob(jobWith(chosen))).findings.filter(({ counts }) => counts);
      fc.assert(
        fc.property(fits, (chosen) => {
          const before = check(chosen);
          const seen = new Set<string>();
          for (const finding of before) {
            const offer = /^fit ([^,]+?)(?:, .+,)? at (\S+)(?: and (\S+))?$/.exec(finding.next);
            if (!offer || seen.has(finding.next)) continue;
            seen.add(finding.next);
            const [, value = '', ...refs] = offer;
            const mended: Record<string, string> = { ...chosen };
            for (const ref of refs.filter((each) => each !== undefined)) {
              mended[ref] = (chosen[ref] ?? fitOf(ref)).replace(/value: \S+ \S+?(?=[,\s])/, `value: ${value}`);
            }
            const after = new Map(check(mended).map((each) => [key(each), each.level]));
            offers++;
            expect(after.get(key(finding)) ?? 'good', `${finding.what} after ${finding.next}`).toBe('good');
            for (const each of before) {
              const level = after.get(key(each)) ?? 'good';
              expect(ranks.indexOf(level), `${key(each)} after ${finding.next}`).toBeLessThanOrEqual(
                ranks.indexOf(each.level),
              );
            }
          }
        }),
        { seed, numRuns: 2, endOnFailure: true },
      );
      console.log(`remedies solved anew: ${offers}`);
      expect(offers).toBeGreaterThan(2);
    },
  );
});

function fitOf(ref: string): string {
  return fitLike(parts.find((part) => part.ref === ref)!);
}
