import { mergeLimits, type Board } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { figuresOf, type Figure } from '../src/figure.ts';
import type { FigureName } from '../src/judge.ts';
import { levelOf } from '../src/index.ts';
import { isCapacitorCoupled } from '../src/output-coupling.ts';
import { monoBoard, probeOf, stereoBoard } from './stages.ts';

const limits = mergeLimits();

/** A divider from 10 V that puts 10 V · lower/(lower + 9 kΩ) on node v, and an input that goes straight to the output. */
const divider = (lower: string): Board =>
  monoBoard(
    `
    R1: { kind: resistor, value: 10 kΩ, between: [in, out] }
    R2: { kind: resistor, value: 9 kΩ, between: [vcc, v] }
    R3: { kind: resistor, value: ${lower}, between: [v, gnd] }`,
    'rails: { vcc: { volts: 10 V } }',
  );

function figures(board: Board, drawn?: Board): readonly Figure[] {
  return figuresOf(probeOf(board.circuit), limits, drawn ? probeOf(drawn.circuit) : null);
}

const named = (all: readonly Figure[], what: FigureName): readonly Figure[] =>
  all.filter((figure) => figure.what === what);

const nodeV = (board: Board, drawn: Board): Figure =>
  named(figures(board, drawn), 'node_volts').find(({ where }) => where.startsWith('node v '))!;

describe('figures against the drawing', () => {
  it('judges neither gain nor node voltages where there is no drawing to hold them against', () => {
    const alone = figures(divider('1 kΩ')).map(({ what }) => what);
    expect(alone).not.toContain('gain');
    expect(alone).not.toContain('node_volts');
    expect(alone).toContain('deviation');
  });

  it('gives a node voltage in percent of the drawn one', () => {
    // 1 V as drawn; 1.1 kΩ under 9 kΩ: 1.0891 V.
    const figure = nodeV(divider('1.1 kΩ'), divider('1 kΩ'));
    expect(figure.value).toBeCloseTo(100 * (11 / 10.1 - 1), 9);
    expect([figure.good, figure.look]).toEqual([10, 20]);
  });

  it('lets 50 mV pass as good on a node of less than half a volt, and 100 mV as look', () => {
    // 0.1 V as drawn, R3 = 9000/99 Ω; the floor of 50 mV is 10 % of 0.5 V.
    const drawn = divider(`${9000 / 99} Ω`);
    const at = (volts: number): Board => divider(`${(9000 * volts) / (10 - volts)} Ω`);
    expect(nodeV(at(0.13), drawn).value).toBeCloseTo(6, 8);
    expect(levelOf(nodeV(at(0.1499), drawn))).toBe('good');
    expect(levelOf(nodeV(at(0.1501), drawn))).toBe('look');
    expect(levelOf(nodeV(at(0.2001), drawn))).toBe('fail');
    expect(nodeV(at(0.1499), drawn).value).toBeLessThan(10);
  });

  it('judges no rail and no node that the drawing has not', () => {
    const added = monoBoard(
      `
      R1: { kind: resistor, value: 10 kΩ, between: [in, out] }
      R2: { kind: resistor, value: 4 kΩ, between: [vcc, extra] }
      R4: { kind: resistor, value: 5 kΩ, between: [extra, v] }
      R3: { kind: resistor, value: 1 kΩ, between: [v, gnd] }`,
      'rails: { vcc: { volts: 10 V } }',
    );
    const places = named(figures(added, divider('1 kΩ')), 'node_volts').map(({ where }) => where);
    expect(places).toEqual(['node in against drawn', 'node out against drawn', 'node v against drawn']);
  });

  it('gives the gain against the drawn one at 1 kHz', () => {
    const pair = (lower: string): Board =>
      monoBoard(`
        R1: { kind: resistor, value: 10 kΩ, between: [in, out] }
        R2: { kind: resistor, value: ${lower}, between: [out, gnd] }`);
    const [gain] = named(figures(pair('30 kΩ'), pair('10 kΩ')), 'gain');
    expect(gain!.value).toBeCloseTo(20 * Math.log10(0.75 / 0.5), 10);
  });
});

describe('balance', () => {
  const pair = (right: string): Board =>
    stereoBoard(`
      R101/R102: { kind: resistor, value: 10 kΩ, between: [in, out] }
      R103: { kind: resistor, value: 10 kΩ, between: [out@left, gnd] }
      R104: { kind: resistor, value: ${right}, between: [out@right, gnd] }`);

  it('is left over right, of no one channel, and is absent for a single channel', () => {
    const [balance] = named(figures(pair('30 kΩ')), 'balance');
    expect(balance!.value).toBeCloseTo(-20 * Math.log10(1.5), 10);
    expect([balance!.channel, balance!.where]).toEqual([null, 'left over right at 30 Hz']);
    expect(named(figures(divider('1 kΩ')), 'balance')).toEqual([]);
  });

  it('is found at the lower end of the band where the channels are alike but for rounding', () => {
    expect(named(figures(pair('10 kΩ')), 'balance')[0]!.hz).toBe(30);
  });
});

describe('search and follow', () => {
  it('read the same figure off another stage, over the band anew or at the place where it was found', () => {
    const lowPass = (nanofarads: number): Board =>
      monoBoard(`
        R1: { kind: resistor, value: 10 kΩ, between: [in, out] }
        C1: { kind: capacitor, value: ${nanofarads} nF, between: [out, gnd] }`);
    const [now, other] = [probeOf(lowPass(10).circuit), probeOf(lowPass(4.7).circuit)];
    for (const figure of figuresOf(now, limits, now)) {
      if (figure.hz === null) continue;
      expect(figure.search(now)).toBe(figure.value);
      expect(figure.follow(now)).toBeCloseTo(figure.value, 9);
      const same = figuresOf(other, limits, now).find(({ what }) => what === figure.what)!;
      expect(figure.search(other)).toBe(same.value);
    }
    const [deviation] = named(figuresOf(now, limits, null), 'deviation');
    expect(deviation!.follow(other)).toBe(other.reader.deviationDb(0, deviation!.hz!));
  });
});

describe('output DC', () => {
  const source = `
    R1: { kind: resistor, value: 47 kΩ, between: [in, gnd] }
    R2: { kind: resistor, value: 1 kΩ, between: [vcc, e] }
    R3: { kind: resistor, value: 1 kΩ, between: [e, gnd] }
    C1: { kind: capacitor, value: 1 nF, between: [in, e] }`;
  const rails = 'rails: { vcc: { volts: 10 V } }';
  const coupling = 'C9: { kind: capacitor, value: 1 µF, leakage: 5 MΩ, plus: e, minus: ';
  const boards = {
    straight: monoBoard(
      `${source}\n${coupling}out }\nR9: { kind: resistor, value: 10 kΩ, between: [out, gnd] }`,
      rails,
    ),
    'behind a series resistor': monoBoard(
      `${source}\n${coupling}o1 }
      R8: { kind: resistor, value: 1 kΩ, between: [o1, out] }
      R9: { kind: resistor, value: 10 kΩ, between: [out, gnd] }`,
      rails,
    ),
    'direct, with a capacitor to gnd': monoBoard(
      `${source}\nR8: { kind: resistor, value: 1 kΩ, between: [e, out] }
      C9: { kind: capacitor, value: 1 µF, between: [out, gnd] }`,
      rails,
    ),
  };

  it.each([
    ['straight', 0],
    ['behind a series resistor', 1000],
  ] as const)('is judged behind a coupling capacitor: %s', (name, series) => {
    const [figure] = named(figures(boards[name]), 'output_dc');
    // 5 V behind 500 Ω drives 10 kΩ through 5 MΩ of leakage.
    expect(figure!.value).toBeCloseTo((1000 * 5 * 10_000) / (500 + 5e6 + series + 10_000), 8);
    expect([figure!.unit, figure!.good, figure!.look]).toEqual(['mV', 2, 10]);
  });

  it('is not judged on an output that stands on a rail, or that a device drives', () => {
    expect(named(figures(boards['direct, with a capacitor to gnd']), 'output_dc')).toEqual([]);
    const driven = monoBoard(
      `
      R1: { kind: resistor, value: 10 kΩ, between: [in, m] }
      C1: { kind: capacitor, value: 1 nF, between: [m, out] }
      R2: { kind: resistor, value: 47 kΩ, between: [m, out] }
      U1: { type: OA, plus: gnd, minus: m, out: out }`,
      'types: { OA: { kind: opamp } }',
    );
    expect(isCapacitorCoupled(driven.circuit, 'out@mono')).toBe(false);
  });

  it('follows a switch only over the contact that is made', () => {
    const switched = (at: string): boolean => {
      const { circuit } = monoBoard(
        `${source}\n${coupling}o1 }
        S1: { kind: switch, pole: out, positions: { played: o1, tape: e }, at: ${at} }
        R9: { kind: resistor, value: 10 kΩ, between: [out, gnd] }`,
        rails,
      );
      return isCapacitorCoupled(circuit, 'out@mono');
    };
    expect([switched('played'), switched('tape')]).toEqual([true, false]);
  });
});
