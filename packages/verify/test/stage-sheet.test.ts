import { mergeLimits } from '@curvewright/board';
import { targetDb } from '@curvewright/curves';
import { describe, expect, it } from 'vitest';
import { gainReader, stageSheet } from '../src/index.ts';
import { deviationCurves, sheetFrequencies } from '../src/stage-sheet.ts';
import { idealAmplifier, idealEqualiser, monoBoard, stageOf, stereoBoard } from './stages.ts';

const limits = mergeLimits();

/** An exact equaliser behind which C and R pass the treble: the deviation is that of the high-pass alone. */
function behindHighPass(microfarads: number): ReturnType<typeof stageOf> {
  const parts = `${idealEqualiser}
    C9: { kind: capacitor, value: ${microfarads} µF, between: [o, out] }
    R9: { kind: resistor, value: 10 kΩ, between: [out, gnd] }`;
  return stageOf(monoBoard(parts, idealAmplifier).circuit);
}

const corner = (microfarads: number): number => 1 / (2 * Math.PI * 10e3 * microfarads * 1e-6);

const highPassDb = (hz: number, fc: number): number => -10 * Math.log10(1 + (fc / hz) ** 2);

describe('stageSheet', () => {
  it.each([0.47, 1, 2.2])(
    'has the roll-off of a high-pass of %f µF and 10 kΩ where its closed form has it',
    (microfarads) => {
      const sheet = stageSheet(behindHighPass(microfarads), limits).channels[0]!;
      const fc = corner(microfarads);
      // −3 dB re 1 kHz: 1 + (fc/f)² = 10^0.3 (1 + (fc/1000)²).
      const expected = fc / Math.sqrt(10 ** 0.3 * (1 + (fc / 1000) ** 2) - 1);
      // The search ends within 1e-6 of the frequency.
      expect(Math.abs(sheet.rolloffHz! / expected - 1)).toBeLessThan(2e-6);
      expect(sheet.rolloffHighHz).toBeNull();
      for (const { hz, deviationDb } of sheet.points) {
        // What closed forms are held to throughout.
        expect(Math.abs(deviationDb - (highPassDb(hz, fc) - highPassDb(1000, fc)))).toBeLessThan(1e-9);
      }
      expect(sheet.worstHz).toBe(30);
      expect(sheet.worstDeviationDb).toBeCloseTo(highPassDb(30, fc) - highPassDb(1000, fc), 9);
    },
  );

  it('moves the corner of a passive high-pass by 2.13 and loses no bass when 0.47 µF becomes 1 µF', () => {
    // Common practice, no source: 1/0.47 = 2.13.
    const [small, large] = [stageSheet(behindHighPass(0.47), limits), stageSheet(behindHighPass(1), limits)];
    // −3 dB re 1 kHz lies a little beside the corner itself, by (fc/1000)² at most: 34 Hz, 1e-3.
    expect(small.channels[0]!.rolloffHz! / large.channels[0]!.rolloffHz!).toBeCloseTo(1 / 0.47, 2);
    large.channels[0]!.points.forEach(({ hz, deviationDb }, i) => {
      if (hz < 1000) expect(deviationDb).toBeGreaterThan(small.channels[0]!.points[i]!.deviationDb);
    });
  });

  it('gives the gain at 1 kHz of the equaliser in front of the high-pass', () => {
    // |Z| at 1 kHz over 27 kΩ, Z = (286.2 kΩ + 24.3 kΩ) times the playback curve, whose 0 dB is at 1 kHz.
    const curve = 10 ** ((targetDb('riaa', 1000) - targetDb('riaa', 1e-3)) / 20);
    const expected = 20 * Math.log10((310_500 / 27_000) * curve) + highPassDb(1000, corner(1));
    expect(stageSheet(behindHighPass(1), limits).channels[0]!.gainDb).toBeCloseTo(expected, 8);
  });

  it('has no roll-off where deviation stays inside 3 dB down to 2 Hz', () => {
    // Corner at 0.16 Hz.
    expect(stageSheet(behindHighPass(100), limits).channels[0]!.rolloffHz).toBeNull();
  });

  it('finds the subsonic peak in the band in which it lies, and that band alone', () => {
    // 27 H and 10 µF in series resonate at 9.69 Hz over 800 Ω: Q = √(L/C)/R = 2.05.
    const parts = `${idealEqualiser}
      U2: { type: OA, plus: o, minus: p, out: p }
      C8: { kind: capacitor, value: 10 µF, between: [p, q] }
      R8: { kind: resistor, value: 800 Ω, between: [q, out] }
      L8: { kind: inductor, value: 27 H, between: [out, gnd] }`;
    const sheet = stageSheet(stageOf(monoBoard(parts, idealAmplifier).circuit), limits).channels[0]!;
    const q = Math.sqrt(27 / 10e-6) / 800;
    const f0 = 1 / (2 * Math.PI * Math.sqrt(27 * 10e-6));
    const peakHz = f0 / Math.sqrt(1 - 1 / (2 * q ** 2));
    const low = sheet.subsonicPeaks.find(({ fromHz }) => fromHz === 2)!;
    const high = sheet.subsonicPeaks.find(({ fromHz }) => fromHz === 10)!;
    expect([low.toHz, high.toHz]).toEqual([10, 30]);
    // 10.3 Hz lies in the upper band; the lower one is highest at its end.
    expect(high.hz / peakHz).toBeCloseTo(1, 3);
    // The high-pass stands at 0 dB at 1 kHz but for (f0/1000)², 1e-3 dB.
    expect(high.db).toBeCloseTo(20 * Math.log10(q / Math.sqrt(1 - 1 / (4 * q ** 2))), 2);
    expect(low.hz).toBe(10);
    expect(low.db).toBeLessThan(high.db);
  });

  it('has the largest difference of level as balance, and none for one channel', () => {
    const divider = stereoBoard(`
      R101/R102: { kind: resistor, value: 10 kΩ, between: [in, out] }
      R103: { kind: resistor, value: 10 kΩ, between: [out@left, gnd] }
      R104: { kind: resistor, value: 30 kΩ, between: [out@right, gnd] }`);
    const stage = stageOf(divider.circuit);
    expect(stageSheet(stage, limits).balanceDb).toBeCloseTo(20 * Math.log10(0.75 / 0.5), 10);
    expect(stageSheet(behindHighPass(1), limits).balanceDb).toBeNull();
  });

  it('searches the band that the limits name', () => {
    const narrow = mergeLimits({ deviation: { from: 100, to: 200 } });
    expect(stageSheet(behindHighPass(1), narrow).channels[0]!.worstHz).toBe(100);
  });

  it('lists the nodes of each channel by their bare names, the shared ones in both', () => {
    const shared = stereoBoard(
      `
      R101/R102: { kind: resistor, value: 10 kΩ, between: [in, out] }
      R103/R104: { kind: resistor, value: 10 kΩ, between: [out, vcc] }`,
      'rails: { vcc: { volts: 9 V } }',
    );
    for (const { nodes } of stageSheet(stageOf(shared.circuit), limits).channels) {
      const volts = Object.fromEntries(nodes.map(({ node, volts }) => [node, volts]));
      expect(Object.keys(volts).sort()).toEqual(['in', 'out', 'vcc']);
      expect(volts.out).toBeCloseTo(4.5, 12);
    }
  });
});

describe('deviationCurves', () => {
  it('reads every channel on a grid from 2 Hz to 100 kHz', () => {
    const stage = behindHighPass(1);
    const { hz, channels } = deviationCurves(stage, gainReader(stage), 20);
    expect([hz[0], hz.at(-1)]).toEqual([2, 100_000]);
    expect(channels).toHaveLength(1);
    expect(channels[0]).toHaveLength(hz.length);
    const fc = corner(1);
    hz.forEach((f, i) => {
      expect(channels[0]![i]!).toBeCloseTo(highPassDb(f, fc) - highPassDb(1000, fc), 8);
    });
  });

  it('lists the sheet at frequencies in rising order', () => {
    expect(sheetFrequencies.toSorted((a, b) => a - b)).toEqual(sheetFrequencies);
  });
});
