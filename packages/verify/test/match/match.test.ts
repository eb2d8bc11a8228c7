import { circuitWithValue, mergeLimits, readPieces, type Circuit, type MeasuredPiece } from '@curvewright/board';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { logFrequencies } from '../../../curves/src/index.ts';
import { atOnce, gainReader, matchPlace, matchSteps, type MatchAnswer, type MatchPlace } from '../../src/index.ts';
import { demoJob } from '../choose/choosing.ts';
import { equaliser } from '../equaliser-job.ts';
import { stageOf, valueOf } from '../stages.ts';

const limits = mergeLimits();
const { circuit, positions } = equaliser;
const fine = logFrequencies(limits.balance.from, limits.balance.to, 40);

function placeOf(name: string, on: Circuit = circuit, among: typeof positions = positions): MatchPlace {
  const place = matchPlace(name, among, on);
  if (typeof place === 'string') throw new Error(place);
  return place;
}

function capacitors(nanofarads: readonly number[]): readonly MeasuredPiece[] {
  const text = `piece,value\n${nanofarads.map((value, n) => `p${n},${value} nF\n`).join('')}`;
  return valueOf(readPieces(text, 'bag.csv', placeOf('C105').parts[0])).pieces;
}

function matched(names: readonly string[], pieces: readonly MeasuredPiece[], on: Circuit = circuit): MatchAnswer {
  return atOnce(
    matchSteps(
      stageOf(on),
      limits,
      names.map((name) => placeOf(name, on)),
      pieces,
    ),
  );
}

/** Each way by itself, with no part of the search: the board with these values, read at forty frequencies to the decade. */
function differenceWith(on: Circuit, values: Readonly<Record<string, number>>): number {
  const with_ = Object.entries(values).reduce((result, [ref, nano]) => circuitWithValue(result, ref, nano * 1e-9), on);
  const reader = gainReader(stageOf(with_));
  return Math.max(...[...fine].map((hz) => Math.abs(reader.gainDb(0, hz) - reader.gainDb(1, hz))));
}

/** A curve without a corner narrower than an octave rises by less than a percent of itself between two of ten to the decade. */
const between = 1.01;
const rounding = 1e-9;

describe('a pair', () => {
  it('is the one that comparing every pair finds, on channels that are alike or not', () => {
    const bag = fc.array(fc.double({ min: 2.4, max: 3.8, noNaN: true }), { minLength: 3, maxLength: 6 });
    fc.assert(
      fc.property(bag, fc.boolean(), (values, alike) => {
        const on = alike ? circuit : circuitWithValue(circuit, 'R105', 23_000);
        const answer = matched(['C105'], capacitors(values), on);
        const all = values.flatMap((a, i) =>
          values.flatMap((b, j) => (i === j ? [] : [differenceWith(on, { C105: a, C106: b })])),
        );
        const best = Math.min(...all);
        const [first] = answer.sets;
        const [left, right] = first!.pieces.map(({ piece }) => values[Number(piece.slice(1))]!);
        const told = Math.abs(first!.differenceDb);
        const itself = differenceWith(on, { C105: left!, C106: right! });
        expect(told).toBeLessThanOrEqual(itself + rounding);
        expect(itself).toBeLessThanOrEqual(best * between + rounding);
        expect(answer.any.differenceDb * between).toBeGreaterThanOrEqual(Math.max(...all) - rounding);
        expect(answer.search).toMatchObject({ ways: all.length, solved: all.length, complete: true });
      }),
      { seed: 20261125, numRuns: 12 },
    );
  });

  it('is found among more pieces than are solved one by one', () => {
    const values = Array.from({ length: 26 }, (_, n) => 2.4 + ((n * 0.618034) % 1) * 1.3);
    const { sets, search } = matched(['C105/C106'], capacitors(values));
    const all = values.flatMap((a, i) => values.flatMap((b, j) => (i === j ? [] : [Math.abs(Math.log(a / b))])));
    const [left, right] = sets[0]!.pieces.map(({ piece }) => values[Number(piece.slice(1))]!);
    // Of channels that are alike the difference grows with the ratio of the two alone.
    expect(Math.abs(Math.log(left! / right!))).toBeCloseTo(Math.min(...all), 12);
    expect(search).toMatchObject({ pieces: 26, ways: 650, complete: true });
    expect(search.solved).toBeLessThan(400);
  });

  it('is ranked, each pair of pieces once', () => {
    const { sets } = matched(['C105'], capacitors([2.5, 3, 3.1, 3.6]));
    const apart = sets.map(({ differenceDb }) => Math.abs(differenceDb));
    expect(apart).toEqual(apart.toSorted((a, b) => a - b));
    expect(sets.map(({ pieces }) => pieces.map(({ piece }) => piece).sort())[0]).toEqual(['p1', 'p2']);
    expect(sets).toHaveLength(6);
  });

  it('of two that are all there is, or of none', () => {
    expect(matched(['C105'], capacitors([3])).sets).toEqual([]);
    expect(matched(['C105'], capacitors([])).any).toEqual({ differenceDb: 0, biasMv: 0 });
    expect(matched(['C105'], capacitors([3, 3.1])).sets).toHaveLength(1);
  });
});

describe('a four', () => {
  it('is the one that comparing every four finds', () => {
    const values = [10.4, 11.9, 11.1, 2.9, 3.4];
    const answer = matched(['C103', 'C105'], capacitors(values));
    const indices = values.map((_, n) => n);
    const ways = indices.flatMap((a) =>
      indices.flatMap((b) =>
        indices.flatMap((c) =>
          indices.flatMap((d) => (new Set([a, b, c, d]).size === 4 ? [[a, b, c, d] as const] : [])),
        ),
      ),
    );
    const all = ways.map(([a, b, c, d]) =>
      differenceWith(circuit, { C103: values[a]!, C104: values[b]!, C105: values[c]!, C106: values[d]! }),
    );
    expect(answer.refs).toEqual(['C103', 'C104', 'C105', 'C106']);
    expect(answer.search).toMatchObject({ ways: 120, solved: 120 });
    expect(Math.abs(answer.sets[0]!.differenceDb)).toBeLessThanOrEqual(Math.min(...all) + rounding);
    expect(Math.abs(answer.sets[0]!.differenceDb) * between).toBeGreaterThanOrEqual(Math.min(...all));
  });
});

describe('transistors of the demo board', () => {
  const job = demoJob();
  const stage = stageOf(job.board.circuit);
  const bag = 'piece,hfe,vbe,vbe_at\na,250,600 mV,1 mA\nb,420,612 mV,1 mA\nc,260,601 mV,1 mA\n';
  const answerFor = (name: string): MatchAnswer => {
    const place = placeOf(name, job.board.circuit, job.board.positions);
    return atOnce(matchSteps(stage, job.limits, [place], valueOf(readPieces(bag, 'bag.csv', place.parts[0])).pieces));
  };

  it('in the first stage differ in bias and hardly in the curve, and are not sorted for it', () => {
    const { sets, any, worthSorting } = answerFor('Q101');
    expect(sets[0]!.pieces.map(({ piece }) => piece).sort()).toEqual(['a', 'c']);
    expect(any.differenceDb).toBeLessThan(0.05);
    expect(worthSorting).toBe(false);
    // The first collector follows its VBE through 330 kΩ and the bias loop: more than the 12 mV the pieces lie apart.
    expect(Math.abs(any.biasMv)).toBeGreaterThan(12);
  });

  it('in the second stage differ in the curve: hFE loads the first', () => {
    const { any, worthSorting } = answerFor('Q103');
    expect(any.differenceDb).toBeGreaterThan(0.05);
    expect(worthSorting).toBe(true);
  });
});

describe('matchPlace', () => {
  it('refuses what cannot be matched', () => {
    const { board } = demoJob();
    const ask = (name: string): MatchPlace | string => matchPlace(name, board.positions, board.circuit);
    expect(ask('X1')).toContain('no position X1');
    expect(ask('C115')).toContain('once for all channels');
    const { positions: inPairs, circuit: withPackage } = equaliser;
    expect(matchPlace('U101A', inPairs, withPackage)).toContain('halves of one package');
    expect(ask('C103/C104')).toMatchObject({ parts: [{ ref: 'C103' }, { ref: 'C104' }] });
  });
});
