import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Job, StockPart } from '@curvewright/board';
import { aimAt } from '../../src/choose/plan-aim.ts';
import { planOptions, sittingLevels, type PlaceOption } from '../../src/choose/plan-options.ts';
import { isHeld } from '../../src/choose/plan-search.ts';
import { isWorse, stageJob, verdictSteps, type Level } from '../../src/index.ts';
import { atOnce } from '../../src/steps.ts';
import { jobWith } from '../equaliser-job.ts';
import { idealAmplifier, jobOn, monoBoard, valueOf } from '../stages.ts';
import { choosing, demoDrawer, demoJob, planFor, stockOf, type Choosing } from './choosing.ts';

const columns = 'stock,kind,build,value,rated,quantity,price\n';

/** Every set of at most one option a place, and no more than so many. */
function everySet(options: readonly (readonly PlaceOption[])[], most: number): readonly (readonly PlaceOption[])[] {
  return options.reduce<readonly (readonly PlaceOption[])[]>(
    (sets, all) => sets.flatMap((set) => [set, ...(set.length < most ? all.map((option) => [...set, option]) : [])]),
    [[]],
  );
}

function heldOf(stock: readonly StockPart[]): ReadonlyMap<string, number> {
  return new Map(stock.flatMap(({ stock: code, quantity }) => (quantity === null ? [] : [[code, quantity] as const])));
}

/** The least number of changes of any set, each judged alone, none passed over; null where none of at most so many passes. */
function leastChanges(
  { places, setting }: Choosing,
  target: 'good' | 'look',
  passes: (chosen: readonly PlaceOption[]) => boolean,
  most: number = places.length,
): number | null {
  const held = heldOf(setting.stock);
  const sizes = everySet(atOnce(planOptions(places, setting)), most)
    .filter((chosen) => isHeld(chosen, held) && chosen.every(({ fits }) => !isWorse(fits, target)))
    .toSorted((a, b) => a.length - b.length);
  return sizes.find(passes)?.length ?? null;
}

describe('the plan for the demo job', { timeout: 60_000 }, () => {
  const plan = planFor(demoJob(), demoDrawer);

  it('is one change that makes it good, the least from drawn', () => {
    expect(plan).toMatchObject({ before: 'look', verdict: 'good', reasons: [], price: 0.18 });
    expect(plan.plan.map(({ refs, stock, takes }) => [refs.join('/'), stock, takes])).toEqual([
      ['C107/C108', 'CE-100-16', 2],
    ]);
    expect(plan.search).toMatchObject({ exact: true, shownBelow: 1 });
  });

  it('written into the job is what a check finds good', () => {
    const { fit } = plan.plan[0]!;
    const job = demoJob((text) =>
      text.replace(
        /( {2}C107\/C108:\n {4}pulled: .*\n {4})fit: .*/,
        (_, head: string) => `${head}fit: ${JSON.stringify(fit)}`,
      ),
    );
    expect(atOnce(verdictSteps(valueOf(stageJob(job))))).toBe('good');
  });

  it('changes nothing where nothing has to be', () => {
    const job = demoJob((text) => text.replace(/value: 330 µF(.*)/, 'value: 100 µF$1'));
    expect(planFor(job, demoDrawer)).toMatchObject({ before: 'good', verdict: 'good', plan: [], price: 0 });
  });
});

/** What is fitted to the equaliser in three positions: right, off or far off. */
function fitsOf(shunt: number, treble: number, coupling: number): Readonly<Record<string, string>> {
  const [exactShunt, exactTreble] = [3180e3 / 286_200, 75e3 / 24_300];
  return {
    'C103/C104': `{ build: film, value: ${exactShunt * shunt} nF, rated: 63 V }`,
    'C105/C106': `{ build: film, value: ${exactTreble * treble} nF, rated: 63 V }`,
    'C109/C110': `{ build: aluminium, value: ${4.7 * coupling} µF, rated: 16 V }`,
  };
}

const textOf = (fits: Readonly<Record<string, string>>): string =>
  Object.entries(fits)
    .map(([refs, fit]) => `${refs}: { fit: ${fit} }`)
    .join('\n');

const rows = [
  'A,capacitor,film,11 nF,63 V',
  'B,capacitor,film,12 nF,63 V',
  'C,capacitor,film,3.1 nF,63 V',
  'D,capacitor,film,3.3 nF,63 V',
  'E,capacitor,aluminium,4.7 µF,16 V',
  'F,capacitor,aluminium,10 µF,16 V',
];

describe('a plan against every set', { timeout: 60_000 }, () => {
  it('is as small, on small drawers beside a real board', { timeout: 120_000 }, () => {
    const sizes: (number | null)[] = [];
    const off = fc.constantFrom(0.5, 1, 1, 1.06, 1.3);
    const drawers = fc
      .subarray(rows, { minLength: 2, maxLength: 4 })
      .chain((some) =>
        fc
          .array(fc.constantFrom('1', '2', '2', '4', '9'), { minLength: some.length, maxLength: some.length })
          .map((counts) => stockOf(columns + some.map((row, n) => `${row},${counts[n]},0.1\n`).join(''))),
      );
    fc.assert(
      fc.property(off, off, fc.constantFrom(0.05, 1, 1), drawers, (shunt, treble, coupling, stock) => {
        const fits = fitsOf(shunt, treble, coupling);
        const all = choosing(jobWith(textOf(fits)), stock);
        const start = all.setting.try([])!;
        const context = {
          ...{ places: all.places, setting: all.setting, start },
          options: atOnce(planOptions(all.places, all.setting)),
          sitting: sittingLevels(all.setting),
        };
        for (const target of ['good', 'look'] as const) {
          const { chosen, exact } = atOnce(aimAt(target, context));
          // The set written into the job's text, read and judged like any other job.
          const passes = (set: readonly PlaceOption[]): boolean => !isWorse(verdictWith(fits, set), target);
          expect(exact).toBe(true);
          const least = leastChanges(all, target, passes);
          sizes.push(least);
          expect(chosen?.length ?? null).toBe(least);
          if (chosen !== null) expect(passes(chosen)).toBe(true);
        }
      }),
      { seed: 20261125, numRuns: 25 },
    );
    const counts = [null, 0, 1, 2, 3].map((size) => `${size}: ${sizes.filter((each) => each === size).length}`);
    console.log(`least changes ${counts.join(', ')}`);
    expect(new Set(sizes).size).toBeGreaterThanOrEqual(4);
  });
});

const verdicts = new Map<string, Level>();

/** What a check says of a job with some of the parts of the drawer fitted, by its text. */
function verdictWith(fits: Readonly<Record<string, string>>, chosen: readonly PlaceOption[]): Level {
  const taken = chosen.map(({ candidate }) => [
    candidate.place.refs.join('/'),
    JSON.stringify(candidate.stock.written),
  ]);
  const text = textOf({ ...fits, ...(Object.fromEntries(taken) as Record<string, string>) });
  const known = verdicts.get(text);
  if (known !== undefined) return known;
  const verdict = atOnce(verdictSteps(valueOf(stageJob(jobWith(text)))));
  verdicts.set(text, verdict);
  return verdict;
}

/** An exact equaliser and eighteen followers, each behind a coupling capacitor: twenty positions of one capacitor each. */
function twentyPositions(values: Readonly<Record<string, string>>): Job {
  const followers = Array.from({ length: 18 }, (_, n) => {
    const [from, to] = [n === 0 ? 'o' : `f${n}`, n === 17 ? 'out' : `f${n + 1}`];
    return (
      `C${n + 10}: { kind: capacitor, build: aluminium, value: 100 µF, plus: ${from}, minus: g${n + 1} }\n` +
      `R${n + 10}: { kind: resistor, value: 10 kΩ, between: [g${n + 1}, gnd] }\n` +
      `U${n + 10}: { type: OA, plus: g${n + 1}, minus: ${to}, out: ${to} }`
    );
  });
  const board = monoBoard(
    `R1: { kind: resistor, value: 27 kΩ, between: [in, m] }
     R2: { kind: resistor, value: 286.2 kΩ, between: [m, n] }
     C2: { kind: capacitor, build: film, value: ${3180e3 / 286_200} nF, between: [m, n] }
     R3: { kind: resistor, value: 24.3 kΩ, between: [n, o] }
     C3: { kind: capacitor, build: film, value: ${75e3 / 24_300} nF, between: [n, o] }
     U1: { type: OA, plus: gnd, minus: m, out: o }
     ${followers.join('\n')}`,
    `${idealAmplifier}\nlimits: { input_resistance: { nominal: 27 kΩ }, hiss: { good: 2 µV, look: 4 µV } }`,
  );
  const all: Readonly<Record<string, string>> = {
    ...{ C2: `${3180e3 / 286_200} nF`, C3: `${75e3 / 24_300} nF` },
    ...Object.fromEntries(followers.map((_, n) => [`C${n + 10}`, '100 µF'])),
    ...values,
  };
  const fitted = Object.entries(all).map(([ref, value]) => {
    const build = ref === 'C2' || ref === 'C3' ? 'film' : 'aluminium';
    return `${ref}: { fit: { build: ${build}, value: ${value}, rated: 63 V } }`;
  });
  return jobOn(board, fitted.join('\n'));
}

describe('a plan over twenty positions', { timeout: 60_000 }, () => {
  const stock = stockOf(
    `${columns}A,capacitor,film,11 nF,63 V,2,0.1\nB,capacitor,film,3.1 nF,63 V,1,0.1\nC,capacitor,aluminium,100 µF,63 V,2,0.1\n`,
  );

  it.each([
    ['nothing off', {}, 0],
    ['one off', { C14: '0.2 µF' }, 1],
    ['two off', { C2: '16 nF', C20: '0.2 µF' }, 2],
    ['three off', { C3: '5 nF', C12: '0.3 µF', C23: '0.3 µF' }, 3],
    ['more off than the drawer has parts for', { C11: '0.3 µF', C12: '0.3 µF', C23: '0.3 µF' }, null],
  ] as const)('%s: as small as every set', { timeout: 120_000 }, (_, values, expected) => {
    const all = choosing(twentyPositions(values), stock);
    expect(all.places).toHaveLength(20);
    const context = {
      ...{ places: all.places, setting: all.setting, start: all.setting.try([])! },
      options: atOnce(planOptions(all.places, all.setting)),
      sitting: sittingLevels(all.setting),
    };
    const { chosen, exact } = atOnce(aimAt('good', context));
    const passes = (set: readonly PlaceOption[]): boolean =>
      all.setting.try(set.map(({ candidate }) => candidate))?.level === 'good';
    expect([chosen?.length ?? null, exact]).toEqual([expected, true]);
    expect(leastChanges(all, 'good', passes, 3)).toBe(expected);
  });
});
