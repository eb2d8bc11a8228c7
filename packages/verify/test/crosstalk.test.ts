import { describe, expect, it } from 'vitest';
import { crosstalkAnswer } from '../src/index.ts';
import { monoBoard, stageOf, stereoBoard } from './stages.ts';

/** Both channels' outputs pull on one node that stands on 10 Ω and 1 µF; the right one more strongly. */
const shared = stereoBoard(
  `
  R101/R102: { kind: resistor, value: 1 kΩ, between: [in, out] }
  R103: { kind: resistor, value: 10 kΩ, between: [out@left, v] }
  R104: { kind: resistor, value: 5 kΩ, between: [out@right, v] }
  R105: { kind: resistor, value: 10 Ω, between: [v, gnd] }
  C101: { kind: capacitor, value: 1 µF, between: [v, gnd] }`,
  'common: [v]',
);

type Complex = readonly [number, number];
const over = ([a, b]: Complex, [c, d]: Complex): Complex => [
  (a * c + b * d) / (c * c + d * d),
  (b * c - a * d) / (c * c + d * d),
];

describe('crosstalkAnswer', () => {
  const answer = crosstalkAnswer(stageOf(shared.circuit));

  it('is the closed form of a shared impedance, both ways', () => {
    for (const { hz, from, db } of answer.points) {
      const [own, other] = from === 'left' ? [10e3, 5e3] : [5e3, 10e3];
      // The driven side sees v's admittance: 10 Ω, 1 µF and the other channel's resistors to its grounded input.
      const atV: Complex = [1 / 10 + 1 / (other + 1e3), 2 * Math.PI * hz * 1e-6];
      const impedance = over([1, 0], atV);
      const whole: Complex = [1e3 + own + impedance[0], impedance[1]];
      const atOut = over([own + impedance[0], impedance[1]], whole);
      const heard = over(
        [impedance[0] * 1e3, impedance[1] * 1e3],
        [(other + 1e3) * whole[0], (other + 1e3) * whole[1]],
      );
      expect(db).toBeCloseTo(20 * Math.log10(Math.hypot(...atOut) / Math.hypot(...heard)), 9);
    }
  });

  it('covers 20 Hz to 20 kHz in both directions', () => {
    expect(answer.points.filter(({ hz }) => hz === 20).map(({ from, to }) => [from, to])).toEqual([
      ['left', 'right'],
      ['right', 'left'],
    ]);
    expect([answer.points[0]!.hz, answer.points.at(-1)!.hz]).toEqual([20, 20_000]);
  });

  it('gives each channel what it hears of the other at 1 kHz', () => {
    for (const { name, crosstalkDb } of answer.channels) {
      expect(crosstalkDb).toBe(answer.points.find(({ hz, to }) => hz === 1000 && to === name)!.db);
    }
    expect(answer.channels[0]!.crosstalkDb).not.toBe(answer.channels[1]!.crosstalkDb);
  });

  it('says what it leaves out, and that of op-amps where there are some', () => {
    expect(answer.leftOut).toContain('not modelled');
    expect(answer.leftOut).not.toContain('Op-amps');
    const board = stereoBoard(
      `R101/R102: { kind: resistor, value: 1 kΩ, between: [in, p] }
       U101A/U101B: { type: OA, plus: p, minus: out, out: out }`,
      'types: { OA: { kind: opamp } }',
    );
    expect(crosstalkAnswer(stageOf(board.circuit)).leftOut).toContain('Op-amps');
  });

  it('has no figure where nothing leads across', () => {
    const board = stereoBoard('R101/R102: { kind: resistor, value: 1 kΩ, between: [in, out] }');
    const apart = crosstalkAnswer(stageOf(board.circuit));
    expect(apart.points.every(({ db }) => db === null)).toBe(true);
    expect(apart.channels.map(({ crosstalkDb }) => crosstalkDb)).toEqual([null, null]);
  });

  it('of one channel has no points', () => {
    const mono = monoBoard('R1: { kind: resistor, value: 1 kΩ, between: [in, out] }');
    expect(crosstalkAnswer(stageOf(mono.circuit))).toMatchObject({ points: [], channels: [{ crosstalkDb: null }] });
  });
});
