import { mergeLimits, type Board } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { influenceAnswer, type ChannelInfluence, type InfluenceAnswer } from '../src/index.ts';
import { idealAmplifier, idealEqualiser, monoBoard, stageOf, stereoBoard } from './stages.ts';

const limits = mergeLimits();

function influenceOf(board: Board, frequencies: readonly number[] = [20, 1000, 10_000]): InfluenceAnswer {
  const answer = influenceAnswer(stageOf(board.circuit), limits, frequencies);
  if (answer === null) throw new Error('singular at the bias');
  return answer;
}

const rowOf = ({ parts }: ChannelInfluence, ref: string, parameter: string = 'value') =>
  parts.find((row) => row.ref === ref && row.parameter === parameter)!;

/** dB that one percent makes to first order: 20/ln 10 of a neper, over 100. */
const percent = 0.2 / Math.LN10;

describe('influence on an ideal equaliser', () => {
  const answer = influenceOf(
    monoBoard(`${idealEqualiser}\n  R9: { kind: resistor, value: 1 kΩ, between: [o, out] }`, idealAmplifier),
  );
  const [channel] = answer.channels;

  it('an input resistor moves the gain by one percent and the curve not at all', () => {
    const row = rowOf(channel!, 'R1');
    // Slopes are right to some 1e-11.
    expect(row.gainDbPerPercent).toBeCloseTo(-percent, 10);
    for (const { db } of row.deviationDbPerPercent) expect(Math.abs(db)).toBeLessThan(1e-10);
  });

  it('an arm R ∥ C in series with another moves the curve by the closed form', () => {
    // H = −(Z2 + Z3)/R1, Z = R/(1 + sRC): d ln H/d ln C2 = −Z2·sR2C2/(1 + sR2C2)/(Z2 + Z3).
    const slope = (hz: number): number => {
      const [t2, t3] = [3180e-6, 75e-6];
      const [re, im] = [286.2e3, 24.3e3].map((ohms, i) => {
        const wt = 2 * Math.PI * hz * [t2, t3][i]!;
        const norm = 1 + wt * wt;
        return { z: [ohms / norm, (-ohms * wt) / norm], wt, norm };
      }) as [{ z: number[]; wt: number; norm: number }, { z: number[] }];
      const share = [(re.wt * re.wt) / re.norm, re.wt / re.norm];
      const top = [re.z[0]! * share[0]! - re.z[1]! * share[1]!, re.z[0]! * share[1]! + re.z[1]! * share[0]!];
      const sum = [re.z[0]! + im.z[0]!, re.z[1]! + im.z[1]!];
      return (-(top[0]! * sum[0]! + top[1]! * sum[1]!) / (sum[0]! ** 2 + sum[1]! ** 2)) * percent;
    };
    const row = rowOf(channel!, 'C2');
    expect(row.gainDbPerPercent).toBeCloseTo(slope(1000), 10);
    for (const { hz, db } of row.deviationDbPerPercent) expect(db).toBeCloseTo(slope(hz) - slope(1000), 10);
  });

  it('ranks by the most that deviation moves in the band, and knows where', () => {
    const most = channel!.parts.map(({ worst }) => Math.abs(worst.dbPerPercent));
    expect(most).toEqual(most.toSorted((a, b) => b - a));
    for (const { worst } of channel!.parts) {
      expect(worst.hz).toBeGreaterThanOrEqual(answer.band.fromHz);
      expect(worst.hz).toBeLessThanOrEqual(answer.band.toHz);
    }
  });
});

describe('tolerances', () => {
  const stage = `
    R1: { kind: resistor, build: metal_film, value: 1 kΩ, between: [in, b] }
    C1: { kind: capacitor, value: 10 nF, tolerance: -20/+80 %, between: [b, gnd] }
    C2: { kind: capacitor, value: 1 nF, between: [b, gnd] }
    R2: { kind: resistor, value: 100 kΩ, between: [vcc, c] }
    C3: { kind: capacitor, value: 10 µF, between: [b, q] }
    R3: { kind: resistor, value: 4.7 MΩ, between: [c, q] }
    C4: { kind: capacitor, value: 1 µF, between: [c, out] }
    R4: { kind: resistor, value: 1 MΩ, between: [out, gnd] }
    Q1: { type: HN, collector: c, base: q, emitter: gnd }`;
  const type =
    'rails: { vcc: { volts: 24 V } }\n' +
    'types: { HN: { kind: npn, hFE: { low: 200, typical: 320, high: 500, at: 0.1 mA }, VBE: { value: 600 mV, at: 1 mA } } }';
  const [channel] = influenceOf(monoBoard(stage, type)).channels;

  it("are the file's, the build's, or none, and hFE's its low and high", () => {
    expect(rowOf(channel!, 'R1').tolerance).toEqual({ minus: 0.01, plus: 0.01, stated: false });
    expect(rowOf(channel!, 'C1').tolerance).toEqual({ minus: 0.2, plus: 0.8, stated: true });
    expect(rowOf(channel!, 'C2').tolerance).toBeNull();
    expect(rowOf(channel!, 'C2').worst.atToleranceDb).toBeNull();
    const { minus, plus } = rowOf(channel!, 'Q1', 'hFE').tolerance!;
    expect([minus, plus]).toEqual([1 - 200 / 320, 500 / 320 - 1]);
    const { tolerance, worst } = rowOf(channel!, 'C1');
    expect(worst.atToleranceDb).toBeCloseTo(100 * tolerance!.plus * Math.abs(worst.dbPerPercent), 12);
  });

  it('the supply moves its own node by a percent of it', () => {
    const volts = channel!.supplyAndLoad.find(({ ref, parameter }) => ref === 'vcc' && parameter === 'volts')!;
    // 1 % of 24 V, solved to 1e-12.
    expect(volts.nodeMvPerPercent.find(({ node }) => node === 'vcc')!.mv).toBeCloseTo(240, 8);
  });
});

describe('two channels', () => {
  const parts = `
    R1/R2: { kind: resistor, value: 10 kΩ, between: [in, out] }
    C1/C2: { kind: capacitor, value: 10 nF, between: [out, gnd] }
    R3/R4: { kind: resistor, value: 10 kΩ, between: [vq, out] }
    R901: { kind: resistor, value: 10 kΩ, between: [vcc, vq] }
    R902: { kind: resistor, value: 10 kΩ, between: [vq, gnd] }`;
  const more = 'common: [vq]\nrails: { vcc: { volts: 20 V } }';

  it('hold the shared parts in both, and those of the other where a shared node carries them over', () => {
    const [left, right] = influenceOf(stereoBoard(parts, more)).channels;
    const refs = (channel: ChannelInfluence): string[] => channel.parts.map(({ ref }) => ref).sort();
    expect(refs(left!)).toEqual(['C1', 'C2', 'R1', 'R2', 'R3', 'R4', 'R901', 'R902']);
    expect(refs(right!)).toEqual(['C1', 'C2', 'R1', 'R2', 'R3', 'R4', 'R901', 'R902']);
  });

  it('leave the other channel out where nothing is shared', () => {
    const [left] = influenceOf(stereoBoard(parts.replace('[vq, out]', '[gnd, out]'), more)).channels;
    expect(left!.parts.map(({ ref }) => ref).sort()).toEqual(['C1', 'R1', 'R3', 'R901', 'R902']);
  });
});
