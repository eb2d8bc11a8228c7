import { mergeLimits } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { curveAnswer, stageSheet } from '../../src/index.ts';
import { channelFigures } from '../../src/spread/board-row.ts';
import { monoBoard, stageOf, stereoBoard } from '../stages.ts';
import { runnerOf } from './runs.ts';

const parts = `
  C1/C2: { kind: capacitor, value: 1 µF, tolerance: 20 %, between: [in, b] }
  R1/R2: { kind: resistor, value: 15 kΩ, tolerance: 5 %, between: [b, m] }
  R3/R4: { kind: resistor, value: 286.2 kΩ, tolerance: 5 %, between: [m, n] }
  C3/C4: { kind: capacitor, value: 11.1 nF, tolerance: 5 %, between: [m, n] }
  R5/R6: { kind: resistor, value: 24.3 kΩ, tolerance: 5 %, between: [n, out] }
  C5/C6: { kind: capacitor, value: 3.3 nF, tolerance: 5 %, between: [n, out] }
  U1/U2: { type: OA, plus: gnd, minus: m, out: out }`;
const types = 'types: { OA: { kind: opamp } }';

describe('the row of the nominal board', () => {
  const board = stereoBoard(parts, types);
  const { layout, nominal, sweep } = runnerOf(board);
  const stage = stageOf(board.circuit);
  const hz = sweep.told.map((i) => sweep.hz[i]!);

  // Two solvers of one network, well conditioned: rounding in the eleventh digit of a dB.
  it('holds deviation and gain as the curve has them', () => {
    curveAnswer(stage, 'riaa', hz).channels.forEach(({ points }, c) => {
      points.forEach(({ deviationDb }, n) => {
        expect(nominal[layout.deviation + c * hz.length + n]).toBeCloseTo(deviationDb, 9);
      });
      const at1kHz = points.find((point) => point.hz === 1000)!;
      expect(nominal[layout.gain + c]).toBeCloseTo(at1kHz.gainDb, 9);
    });
  });

  it('holds the figures of each channel as the sheet has them', () => {
    const limits = mergeLimits();
    stageSheet(stage, limits).channels.forEach((sheet, c) => {
      const figure = (what: (typeof channelFigures)[number]): number =>
        nominal[layout.figures + c * channelFigures.length + channelFigures.indexOf(what)]!;
      const [low, high] = sheet.subsonicPeaks;
      // The sweep reads between its frequencies to some hundredths of a dB and thousandths of a frequency.
      expect(Math.abs(figure('deviation') - sheet.worstDeviationDb)).toBeLessThan(0.02);
      expect(Math.abs(figure('subsonic_low') - low!.db)).toBeLessThan(0.02);
      expect(Math.abs(figure('subsonic_high') - high!.db)).toBeLessThan(0.02);
      expect(figure('bass')).toBeCloseTo(sheet.points.find((point) => point.hz === limits.bass.at)!.deviationDb, 9);
      expect(Math.abs(nominal[layout.rolloff + c]! / sheet.rolloffHz! - 1)).toBeLessThan(0.005);
      expect(nominal[layout.rolloffHigh + c]).toBeNaN();
    });
  });

  it('holds nothing of balance for one channel', () => {
    const mono = monoBoard(parts.replaceAll(/\/[A-Z]\d/g, ''), types);
    const one = runnerOf(mono).layout;
    expect(one.gain - one.difference).toBe(0);
    expect(one.volts - one.balance).toBe(0);
    expect(layout.gain - layout.difference).toBe(hz.length);
  });
});
