import { readFileSync } from 'node:fs';
import { readBoard, type Circuit, type Part } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { nodeBands, spreadAnswer } from '../../src/index.ts';
import { centralSlopes } from '../../src/spread/corner.ts';
import { monoBoard, stageOf, stereoBoard, valueOf } from '../stages.ts';
import { runnerOf, spreadOf } from './runs.ts';

const seed = (name: string): ReturnType<typeof monoBoard> =>
  valueOf(
    readBoard(readFileSync(new URL(`../../../../seeds/boards/${name}.board.yaml`, import.meta.url), 'utf8'), name),
  );

/** Every limit but that of gain so wide that no board misses it. */
const onlyGain = (good: string, look: string): string =>
  `limits:
  gain: { good: ${good}, look: ${look} }
${['deviation', 'treble', 'ultrasonic', 'subsonic_high', 'subsonic_low']
  .map((name) => `  ${name}: { good: 1000 dB, look: 1000 dB }`)
  .join('\n')}
  bass: { good: -1000 dB, look: -1000 dB }
  balance: { good: 1000 dB, look: 1000 dB }`;

const amplifier = 'types: { OA: { kind: opamp } }';

/** Gain −R2/R1; C1 hangs on the ideal output and moves nothing. */
const inverting = monoBoard(
  `
  R1: { kind: resistor, value: 10 kΩ, tolerance: 1 %, between: [in, m] }
  R2: { kind: resistor, value: 100 kΩ, tolerance: 10 %, between: [m, out] }
  C1: { kind: capacitor, value: 1 nF, tolerance: 20 %, between: [out, gnd] }
  U1: { type: OA, plus: gnd, minus: m, out: out }`,
  `${amplifier}\n${onlyGain('0.3 dB', '0.5 dB')}`,
);

describe('the yield', () => {
  const boards = 4000;
  const answer = spreadOf(inverting, boards);

  /** P(|20·log10(u/v)| ≤ limit) for u even over ±10 % and v over ±1 %, by a fine sum over v. */
  function exact(limitDb: number): number {
    const ratio = 10 ** (limitDb / 20);
    const steps = 2000;
    let sum = 0;
    for (let n = 0; n < steps; n++) {
      const v = 0.99 + (0.02 * (n + 0.5)) / steps;
      const [low, high] = [Math.max(0.9, v / ratio), Math.min(1.1, v * ratio)];
      sum += Math.max(0, high - low) / 0.2 / steps;
    }
    return sum;
  }

  // Four standard errors of a share of about a half.
  const bound = 4 * Math.sqrt(0.25 / boards);
  it('is the share that a closed form gives', () => {
    expect(Math.abs(answer.yield - exact(0.5))).toBeLessThan(bound);
    expect(Math.abs(answer.yieldGood - exact(0.3))).toBeLessThan(bound);
  });

  it('splits every limit into shares of all boards', () => {
    expect(answer.figures.length).toBeGreaterThan(6);
    for (const { shareGood, shareLook, shareFail } of answer.figures) {
      expect(shareGood + shareLook + shareFail).toBeCloseTo(1, 12);
    }
    const gain = answer.figures.find(({ what }) => what === 'gain')!;
    expect(1 - gain.shareFail).toBeCloseTo(answer.yield, 12);
  });

  it('names the part behind the failures, and none that moves nothing', () => {
    expect(answer.driversOf).toBe('fail');
    expect(answer.drivers[0]).toMatchObject({ ref: 'R2', parameter: 'value', what: 'gain', channel: 'mono' });
    // Boards fail with R2 in the outer parts of its span: by itself |u − ½| > 0.28 of ½, a mean of some 0.8 half spans, 1.4 σ.
    expect(answer.drivers[0]!.sigmas).toBeGreaterThan(1.2);
    expect(answer.drivers.map(({ ref }) => ref)).not.toContain('C1');
    const { figureIs, partIs } = answer.drivers[0]!;
    expect(figureIs).toBe(partIs);
  });

  it('solves the worst corners exactly, and no board lies beyond them', () => {
    const [low, high] = answer.corners.filter(({ what }) => what === 'gain');
    // Rounding of the solve alone.
    expect(low!.db).toBeCloseTo(20 * Math.log10(0.9 / 1.01), 9);
    expect(high!.db).toBeCloseTo(20 * Math.log10(1.1 / 0.99), 9);
    expect(high!.parts).toMatchObject([
      { ref: 'R2', at: 'high' },
      { ref: 'R1', at: 'low' },
    ]);
    const gain = answer.figures.find(({ what }) => what === 'gain')!;
    expect(gain.worstLow).toBeGreaterThan(low!.db!);
    expect(gain.worstHigh).toBeLessThan(high!.db!);
  });
});

describe('channels', () => {
  const pair = (more: string): ReturnType<typeof stereoBoard> =>
    stereoBoard(
      `
  R1/R2: { kind: resistor, value: 10 kΩ, between: [in, m] }
  R3/R4: { kind: resistor, value: 100 kΩ, tolerance: 10 %, between: [m, out] }
  U1/U2: { type: OA, plus: gnd, minus: m, out: out }`,
      `${amplifier}\n${more}`,
    );

  it('are drawn each by itself', () => {
    const { balance } = spreadOf(pair(''), 1000);
    // The difference of two even draws over ±0.87 dB: 90 % lie within ±68 % of the sum of both.
    expect(balance!.highDb).toBeGreaterThan(0.8);
    expect(balance!.lowDb).toBeLessThan(-0.8);
  });

  it('are drawn alike where the board says that they are matched', () => {
    const answer = spreadOf(pair('matched: [R3/R4]'), 300);
    expect(answer.alike).toEqual([['R3', 'R4']]);
    // Rounding of two solves of the same numbers.
    expect(answer.balance!.worstHighDb).toBeLessThan(1e-9);
    expect(answer.balance!.worstLowDb).toBeGreaterThan(-1e-9);
    expect(answer.channels[0]!.gain.worstHighDb).toBeGreaterThan(20.5);
  });
});

describe('a run of boards', () => {
  const board = seed('lk205');
  const runner = runnerOf(board);

  it('does not depend on how it is cut, on what was run before or on the order in which it comes together', () => {
    const whole = spreadAnswer(runner, [runner.run(0, 60)]);
    const pieces = [runner.run(40, 20), runner.run(0, 25), runner.run(25, 15)];
    expect(spreadAnswer(runner, pieces)).toEqual(whole);
    expect(spreadAnswer(runnerOf(board), pieces.toReversed())).toEqual(whole);
  });

  it('differs with the seed', () => {
    const other = runnerOf(board, board.circuit, 2);
    expect(other.run(0, 3).rows).not.toEqual(runner.run(0, 3).rows);
  });

  it('gives the same bias as the small run for the voltage chart', () => {
    const answer = spreadAnswer(runner, [runner.run(0, 100)]);
    const bands = nodeBands(stageOf(board.circuit), board.matched, { boards: 100 });
    for (const { name, nodes } of answer.channels) {
      for (const { node, ...reach } of nodes) {
        const found = bands.find((each) => each.node === node || each.node === `${node}@${name}`)!;
        // Volts are kept to 24 binary digits; the search for the bias ends within 1e-12 of a volt or of its currents.
        for (const key of ['nominalV', 'lowV', 'medianV', 'highV'] as const) {
          expect(found[key]).toBeCloseTo(reach[key], 5);
        }
      }
    }
  });
});

describe('small tolerances', () => {
  /** Every part within 0.1 %, so that everything is a straight line. */
  function tight(circuit: Circuit): Circuit {
    const tolerance = { minus: 0.001, plus: 0.001 };
    const parts = circuit.parts.map((part): Part => {
      if (part.kind !== 'typed') return { ...part, tolerance };
      if (part.type.kind !== 'npn' && part.type.kind !== 'pnp') return part;
      const typical = part.type.hFE[0]!.value;
      return { ...part, type: { ...part.type, hFELow: typical * 0.999, hFEHigh: typical * 1.001 } };
    });
    return { ...circuit, parts };
  }

  // 10,000 draws give a standard deviation to 0.7 % (1/√(2n)), so that 3 % is four of its standard errors.
  it.each(['lk417', 'lk310'])(
    'spread as the sensitivities say: %s',
    (name) => {
      const board = seed(name);
      const runner = runnerOf(board, tight(board.circuit));
      const { channels, balance } = spreadAnswer(runner, [runner.run(0, 10_000)]);
      const slopes = centralSlopes(runner);
      const { sweep } = runner;
      const sigma = (move: (gains: readonly Float64Array[]) => number): number =>
        Math.sqrt(slopes.reduce((sum, each) => sum + move(each) ** 2 / 12, 0));
      for (const hz of [20, 50, 100, 10_000, 20_000]) {
        const i = sweep.at(hz);
        channels.forEach(({ bands }, c) => {
          const drawn = bands.find((band) => band.hz === hz)!.sigmaDb;
          expect(Math.abs(drawn / sigma((gains) => gains[c]![i]! - gains[c]![sweep.reference]!) - 1)).toBeLessThan(
            0.03,
          );
        });
        const apart = balance!.bands.find((band) => band.hz === hz)!.sigmaDb;
        expect(Math.abs(apart / sigma((gains) => gains[0]![i]! - gains[1]![i]!) - 1)).toBeLessThan(0.03);
      }
      channels.forEach(({ gain }, c) => {
        expect(Math.abs(gain.sigmaDb / sigma((gains) => gains[c]![sweep.reference]!) - 1)).toBeLessThan(0.03);
      });
    },
    60_000,
  );
});
