import { mergeLimits, type Board } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { logFrequencies, riaaTimes, targetDb } from '../../../curves/src/index.ts';
import { nearestPreferred, preferredValues } from '../../../quantity/src/index.ts';
import { add, decibels, inverse, type Complex } from '../../../network/test/complex.ts';
import { exactValues, type EqualiserValues } from '../../../network/test/equaliser-networks.ts';
import { outside } from '../../../network/test/outside.ts';
import { atOnce, trimPlace, trimSteps, type TrimAnswer, type TrimPlace, type TrimWithin } from '../../src/index.ts';
import { demoJob, stockOf } from '../choose/choosing.ts';
import { monoBoard, stageOf } from '../stages.ts';

const limits = mergeLimits();
const published = outside('equaliser-networks') as { networks: { impedance: string }[] };
const fine = logFrequencies(limits.deviation.from, limits.deviation.to, 60);

/** The four networks as the arm of an inverting stage, whose gain is the arm's impedance over 27 kΩ. */
const arms = [
  { R1: ['m', 'n'], C1: ['m', 'n'], R2: ['n', 'out'], C2: ['n', 'out'] },
  { C2: ['m', 'out'], R2: ['m', 'n'], R1: ['n', 'out'], C1: ['n', 'out'] },
  { R1: ['m', 'out'], C2: ['m', 'out'], R2: ['m', 'n'], C1: ['n', 'out'] },
  { R1: ['m', 'out'], C1: ['m', 'n'], R2: ['n', 'out'], C2: ['n', 'out'] },
] as const;

function boardOf(network: number, values: EqualiserValues): Board {
  const arm = (['R1', 'R2', 'C1', 'C2'] as const).map((ref) => {
    const [kind, unit] = ref.startsWith('R') ? ['resistor', 'Ω'] : ['capacitor', 'F'];
    return `${ref}: { kind: ${kind}, value: ${values[ref]} ${unit}, between: [${arms[network]![ref].join(', ')}] }`;
  });
  return monoBoard(
    [
      'R9: { kind: resistor, value: 27 kΩ, between: [in, m] }',
      ...arm,
      'U1: { type: OA, plus: gnd, minus: m, out: out }',
    ].join('\n'),
    'types: { OA: { kind: opamp } }',
  );
}

/** Impedance of the arms by series and parallel, Ω. */
function impedance(network: number, { R1, R2, C1, C2 }: EqualiserValues, hz: number): Complex {
  const [r1, r2] = [[R1, 0] as Complex, [R2, 0] as Complex];
  const [c1, c2] = [C1, C2].map((farads): Complex => [0, -1 / (2 * Math.PI * hz * farads)]) as [Complex, Complex];
  const beside = (...all: Complex[]): Complex => inverse(all.map(inverse).reduce(add));
  switch (network) {
    case 0:
      return add(beside(r1, c1), beside(r2, c2));
    case 1:
      return beside(c2, add(r2, beside(r1, c1)));
    case 2:
      return beside(r1, c2, add(r2, c1));
    default:
      return beside(r1, add(c1, beside(r2, c2)));
  }
}

/** Furthest from the curve, by the formula alone. */
function worstByFormula(network: number, values: EqualiserValues): number {
  const level = (hz: number): number => decibels(impedance(network, values, hz)) - targetDb('riaa', hz);
  return Math.max(...[...fine].map((hz) => Math.abs(level(hz) - level(1000))));
}

const placesOf = (board: Board, names: readonly string[]): readonly TrimPlace[] =>
  names.map((name) => {
    const place = trimPlace(name, board.positions, board.circuit);
    if (typeof place === 'string') throw new Error(place);
    return place;
  });

function trimmed(
  board: Board,
  names: readonly string[],
  within: TrimWithin,
  stock: Parameters<typeof trimSteps>[3]['stock'] | null = null,
): TrimAnswer {
  const request = { within, series: stock === null ? ('E24' as const) : null, stock: stock ?? [] };
  const answer = atOnce(trimSteps(stageOf(board.circuit), limits, placesOf(board, names), request));
  if (answer === null) throw new Error('not solved');
  return answer;
}

describe('the four equaliser networks (S. P. Lipshitz, JAES 27(6), 1979) with one capacitor 6 % off', () => {
  published.networks.forEach(({ impedance: name }, network) => {
    it(`${name}: the other three trimmed from E24 bring the curve back, as the formula says`, () => {
      const exact = exactValues(310_000)[network]!;
      const found = { ...exact, C2: exact.C2 * 1.06 };
      const { channels } = trimmed(boardOf(network, found), ['R1', 'R2', 'C1'], { db: 0.05 });
      const { before, options, miss } = channels[0]!;
      expect(Math.abs(before.worstDb)).toBeCloseTo(worstByFormula(network, found), 2);
      expect(worstByFormula(network, found)).toBeGreaterThan(0.2);
      for (const option of options) {
        const [R1, R2, C1] = option.choices.map((choice) => {
          const [a, b] = choice.parts.map(({ value }) => value);
          const adds = (choice.how === 'series') === choice.ref.startsWith('R');
          return b === undefined ? a! : adds ? a! + b : (a! * b) / (a! + b);
        });
        const values = { ...found, R1: R1!, R2: R2!, C1: C1! };
        // Twelve points to the decade against sixty: an equaliser's curve bends less than 0.01 dB in between.
        expect(Math.abs(Math.abs(option.worstDb) - worstByFormula(network, values))).toBeLessThan(0.01);
        expect(option.holds).toBe(option.leaves <= 0.05);
      }
      expect(options[0]!.holds).toBe(true);
      expect(new Set(options.map(({ pieces }) => pieces))).toEqual(new Set([3, 4, 5, 6]));
      // Pairs of E24 lie half a percent apart, and one percent of any of the three moves the curve by up to 0.06 dB.
      expect(Math.min(...options.map(({ leaves }) => leaves))).toBeLessThan(0.03);
      // The model is of second order over values that move by up to a third.
      expect(miss).toBeLessThan(0.3);
    });
  });

  const exact = exactValues(310_000)[0]!;
  const found = { ...exact, C2: exact.C2 * 1.06 };
  /** Sixty points to the decade against twelve. */
  const grid = 0.005;

  it('no choice of three single parts is better than the one that is offered', () => {
    const { options } = trimmed(boardOf(0, found), ['R1', 'R2', 'C1'], { db: 0.05 }).channels[0]!;
    const offered = Math.min(...options.filter(({ pieces }) => pieces === 3).map(({ leaves }) => leaves));
    const near = (value: number): readonly number[] =>
      [0.75, 0.82, 0.91, 1, 1.1, 1.21, 1.33].map((by) => nearestPreferred(value * by, 'E24'));
    const all = near(exact.R1).flatMap((R1) =>
      near(exact.R2).flatMap((R2) => near(exact.C1).map((C1) => worstByFormula(0, { ...found, R1, R2, C1 }))),
    );
    expect(offered).toBeLessThanOrEqual(Math.min(...all) + grid);
  });

  it('nor is any pair for one resistor', () => {
    const { options } = trimmed(boardOf(0, found), ['R2'], { db: 0.05 }).channels[0]!;
    const offered = Math.min(...options.map(({ leaves }) => leaves));
    const values = [3, 4, 5, 6].flatMap((decade) => preferredValues('E24').map((step) => step * 10 ** (decade - 1)));
    const pairs = values.flatMap((a, n) => values.slice(n).flatMap((b) => [a + b, (a * b) / (a + b)]));
    const close = pairs.filter((R2) => Math.abs(Math.log(R2 / exact.R2)) < 0.15);
    expect(offered).toBeLessThanOrEqual(Math.min(...close.map((R2) => worstByFormula(0, { ...found, R2 }))) + grid);
  });

  it('all four values together give back the time constants themselves', () => {
    const board = boardOf(0, { R1: exact.R1 * 1.05, R2: exact.R2 * 0.97, C1: exact.C1 * 0.96, C2: exact.C2 * 1.06 });
    const { options, before, places } = trimmed(board, ['R1', 'C1', 'R2', 'C2'], { fraction: 0.01 }).channels[0]!;
    expect(Math.abs(before.timesUs.T2! / 318 - 1)).toBeGreaterThan(0.01);
    const best = options.find(({ holds }) => holds)!;
    const [R1, C1, R2, C2] = best.choices.map(({ value }) => value);
    // The network's own formulas: R1C1 and R2C2 are the poles, their mean weighted by the other resistor is the zero.
    expect(Math.abs((R1! * C1!) / riaaTimes.T1 - 1)).toBeLessThan(0.01);
    expect(Math.abs((R2! * C2!) / riaaTimes.T3 - 1)).toBeLessThan(0.01);
    expect(Math.abs((R1! * R2! * (C1! + C2!)) / (R1! + R2!) / riaaTimes.T2 - 1)).toBeLessThan(0.01);
    // Poles and zeros found in the stage are those of the formulas, to what 100 MΩ of rounding leaves.
    expect(best.timesUs.T1!).toBeCloseTo(R1! * C1! * 1e6, 5);
    expect(best.timesUs.T3!).toBeCloseTo(R2! * C2! * 1e6, 5);
    expect(best.timesUs.T4).toBeNull();
    // One percent of R1 moves its own pole by one percent and the zero by less.
    expect(places[0]!.perPercent).toBeCloseTo(0.01, 3);
  });
});

describe('trim of a board', () => {
  const job = demoJob();

  it('answers twins alike, each by its own designators', () => {
    const [left, right] = trimmed(job.board, ['R121'], { db: 0.1 }).channels;
    expect(left!.places[0]!.ref).toBe('R121');
    expect(right!.places[0]!.ref).toBe('R122');
    expect(right!.options.map(({ worstDb }) => worstDb)).toEqual(left!.options.map(({ worstDb }) => worstDb));
    expect(right!.options.every(({ choices }) => choices.every(({ ref }) => ref === 'R122'))).toBe(true);
  });

  it('takes from a drawer no more than lies there, for both channels', () => {
    const drawer = (pieces: number): ReturnType<typeof stockOf> =>
      stockOf(`stock,kind,value,quantity\nA,resistor,22 kΩ,${pieces}\nB,resistor,470 kΩ,2\n`);
    const stocks = (pieces: number): readonly string[] =>
      trimmed(job.board, ['R121'], { db: 0.1 }, drawer(pieces)).channels[0]!.options.map(({ choices }) =>
        choices
          .flatMap(({ parts }) => parts.map(({ stock }) => stock))
          .sort()
          .join('+'),
      );
    expect(stocks(1)).toEqual([]);
    expect([...new Set(stocks(2))].sort()).toEqual(['A', 'A+B']);
    expect([...new Set(stocks(4))].sort()).toEqual(['A', 'A+A', 'A+B']);
  });

  it('refuses what has no value of its own in each channel', () => {
    const ask = (name: string): TrimPlace | string => trimPlace(name, job.board.positions, job.board.circuit);
    expect(ask('Q101')).toContain('does not hold one resistor or capacitor');
    expect(ask('C115')).toContain('once for all channels');
    expect(ask('X9')).toContain('no position X9');
  });
});
