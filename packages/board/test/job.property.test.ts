import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Job } from '../src/job.ts';
import { circuitOf, circuitWithOnly, circuitWithValue } from '../src/states.ts';
import { board, jobFrom, jobText, outcomeOf, wholeJob } from './job-texts.ts';

const seed = 20261125;

describe('any text for a job', () => {
  it('is answered, never thrown at', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (text) => {
        outcomeOf(text, board);
        outcomeOf(jobText(text), board);
      }),
      { seed, numRuns: 300 },
    );
  });

  it('is answered whatever stands under its keys', () => {
    const keys = ['positions', 'added', 'types', 'readings', 'measured', 'limits', 'unit', 'photos', 'ambient'];
    fc.assert(
      fc.property(fc.constantFrom(...keys), fc.jsonValue({ maxDepth: 4 }), (key, value) => {
        outcomeOf(jobText(`${key}: ${JSON.stringify(value)}`), board);
      }),
      { seed, numRuns: 200 },
    );
  });

  it('is answered with a piece cut out or put in, in one line a fault', () => {
    const pieces = fc.constantFrom('', '{', '}', '[', ':', ' ', '\n', '&a ', '*a', '"', '0', ',', '@left', '~', '-');
    fc.assert(
      fc.property(fc.nat({ max: wholeJob.length }), fc.nat({ max: 30 }), pieces, (start, length, piece) => {
        const outcome = outcomeOf(wholeJob.slice(0, start) + piece + wholeJob.slice(start + length), board);
        for (const { message } of outcome.ok ? [] : outcome.diagnostics) {
          expect(message).not.toMatch(/\n|undefined|\[object/);
        }
      }),
      { seed, numRuns: 200 },
    );
  });
});

/** Sound entries for positions of the whole board. */
const entries: Readonly<Record<string, readonly string[]>> = {
  'C101/C102': [
    '{ pulled: { value: 0.5 µF, faults: [leaky] } }',
    '{ fit: [{ value: 1 µF }, { value: 1 µF }] }',
    '{ fit: none }',
  ],
  C101: ['{ fit: { build: film } }', '{ pulled: { faults: [short_circuit] } }', '{ fit: { reversed: true } }'],
  Q102: [
    '{ fit: { type: HN-A, inserted: BCE } }',
    '{ pulled: { hFE: 90, ICBO: 1 µA } }',
    '{ inserted: CBE }',
    '{ pulled: { faults: [cracked_track], lead: base, beyond: [C102.plus] } }',
    '{ pulled: { contact: 30 Ω, lead: base }, mended: true }',
  ],
  D103: ['{ fit: [{ type: DS-A }, { type: DS-A }] }', '{ fit: { parallel: [{ type: DS-A }, { type: ZD-A }] } }'],
  'R101/R102': ['{ fit: { value: 51 kΩ } }', '{ why: x }', '{ pulled: { faults: [open_circuit] } }'],
};

const positions = fc
  .tuple(
    ...Object.entries(entries).map(([key, choices]) =>
      fc.option(fc.constantFrom(...choices)).map((entry) => [key, entry] as const),
    ),
  )
  .map((chosen) => chosen.flatMap(([key, entry]) => (entry === null ? [] : [`  ${key}: ${entry}`])));

const textOf = (lines: readonly string[]): string =>
  jobText(lines.length === 0 ? '' : `positions:\n${lines.join('\n')}`);

/** Every circuit that a job can be asked for. */
function circuitsOf(job: Job): unknown[] {
  const refs = ['C101', 'D103'];
  const rebuilt = circuitOf(job, 'rebuilt');
  return [
    ...(['drawn', 'found'] as const).map((state) => circuitOf(job, state)),
    rebuilt,
    circuitWithOnly(job, refs),
    rebuilt === null ? null : circuitWithValue(rebuilt.circuit, 'L101', 1),
  ];
}

/** Places tell where a part was written, which is what another order changes. */
function withoutPlaces(value: unknown): unknown {
  return JSON.parse(JSON.stringify(value, (key, inner: unknown) => (key === 'place' ? undefined : inner)));
}

describe('any sound job', () => {
  it('leaves the board as it was', () => {
    const before = JSON.stringify(board);
    fc.assert(
      fc.property(positions, (lines) => {
        circuitsOf(deepFreeze(jobFrom(textOf(lines))));
        expect(JSON.stringify(board)).toBe(before);
      }),
      { seed, numRuns: 100 },
    );
  });

  it('means the same in any order of its keys', () => {
    const shuffled = positions.chain((lines) =>
      fc.tuple(fc.constant(lines), fc.shuffledSubarray(lines, { minLength: lines.length })),
    );
    fc.assert(
      fc.property(shuffled, ([lines, others]) => {
        expect(withoutPlaces(circuitsOf(jobFrom(textOf(others))))).toEqual(
          withoutPlaces(circuitsOf(jobFrom(textOf(lines)))),
        );
      }),
      { seed, numRuns: 100 },
    );
  });

  it('has every designator once in every state', () => {
    fc.assert(
      fc.property(positions, (lines) => {
        const job = jobFrom(textOf(lines));
        for (const state of ['drawn', 'found', 'rebuilt'] as const) {
          const refs = circuitOf(job, state)?.circuit.parts.map(({ ref }) => ref) ?? [];
          expect(new Set(refs).size).toBe(refs.length);
        }
      }),
      { seed, numRuns: 100 },
    );
  });
});

/** A frozen object throws where strict code writes to it. */
function deepFreeze<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    Object.values(value).forEach(deepFreeze);
  }
  return value;
}
