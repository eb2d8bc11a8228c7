import type { Board, Circuit } from '@curvewright/board';
import type { LiveParameter } from '@curvewright/network';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawBoard, drawsOf, writeValues, type Draws } from '../../src/spread/draw.ts';
import { stereoBoard } from '../stages.ts';

const board: Board = stereoBoard(
  `
  R101/R102: { kind: resistor, value: 10 kΩ, tolerance: -20/+80 %, between: [in, b] }
  R103/R104: { kind: resistor, build: metal_film, value: 1 kΩ, between: [b, out] }
  R105/R106: { kind: resistor, value: 1 kΩ, between: [out, gnd] }
  Q101A/Q101B: { type: HN, collector: vcc, base: b, emitter: out }
  Q103/Q104: { type: HP, collector: vcc, base: b, emitter: out }`,
  `rails: { vcc: { volts: 20 V } }
matched: [R103/R104]
types:
  HN: { kind: npn, hFE: { low: 200, typical: 320, high: 500, at: 1 mA }, VBE: { value: 0.6 V, at: 1 mA } }
  HP: { kind: npn, hFE: 300, VBE: { value: 0.6 V, at: 1 mA } }`,
);

/** As a live board would list them: a value or hFE for each part. */
const parameters = board.circuit.parts.map((part): LiveParameter => {
  if (part.kind === 'resistor') return { ref: part.ref, parameter: 'value', nominal: part.ohms };
  return { ref: part.ref, parameter: 'hFE', nominal: 1 };
});

const drawsIn = (circuit: Circuit = board.circuit): Draws => drawsOf(circuit, parameters, board.matched);
const of = (ref: string): number => parameters.findIndex((parameter) => parameter.ref === ref);

function valuesOf(draws: Draws, seed: number, number: number): Float64Array {
  const drawn = new Float64Array(draws.groups.length);
  const values = new Float64Array(parameters.length);
  drawBoard(draws, seed, number, drawn);
  writeValues(draws, drawn, values);
  return values;
}

describe('drawsOf', () => {
  const draws = drawsIn();

  it('takes the tolerance stated, that of the build, and none where there is neither', () => {
    expect(draws.byBuild).toEqual(['R103', 'R104']);
    expect(draws.exact).toEqual(['R105', 'R106', 'Q103', 'Q104']);
    const ends = draws.groups.map(({ refs, members }) => [refs.join('/'), members[0]!.low, members[0]!.high]);
    expect(ends).toEqual([
      ['R101', 8000, 18_000],
      ['R102', 8000, 18_000],
      ['R103/R104', 990, 1010],
      ['Q101A/Q101B', 200 / 320, 500 / 320],
    ]);
  });

  it('keeps every value within its ends, and matched parts and the halves of a package alike', () => {
    fc.assert(
      fc.property(fc.nat(1e6), fc.nat(1e6), (seed, number) => {
        const values = valuesOf(draws, seed, number);
        for (const { members } of draws.groups) {
          for (const { index, low, high } of members) {
            expect(values[index]).toBeGreaterThan(low);
            expect(values[index]).toBeLessThan(high);
          }
        }
        expect(values[of('R103')]).toBe(values[of('R104')]);
        expect(values[of('Q101A')]).toBe(values[of('Q101B')]);
        expect(values[of('R101')]).not.toBe(values[of('R102')]);
        expect(values[of('R105')]).toBe(1000);
      }),
      { seed: 20261125, numRuns: 300 },
    );
  });

  it('gives a part the same draw whatever else stands on the board', () => {
    const fewer = drawsIn({ ...board.circuit, parts: board.circuit.parts.filter(({ ref }) => ref !== 'R101') });
    expect(valuesOf(fewer, 3, 14)[of('R102')]).toBe(valuesOf(draws, 3, 14)[of('R102')]);
  });

  it('places the nominal value between the ends', () => {
    expect(draws.groups[0]!.nominal).toBeCloseTo(0.2, 12);
  });
});
