import { targetDb } from '@curvewright/curves';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planLevel, statedAdapterDb, type Hookup, type LevelWishes } from '../../src/index.ts';

const hookup: Hookup = {
  playerVolts: 1,
  adapterDb: () => -20,
  boardGainDb: 40,
  overloadVolts: 50e-3,
  recorderVolts: 1,
};
const wishes: LevelWishes = { shaping: 'inverse_riaa', fromHz: 20, toHz: 20_000, inputVolts: 5e-3 };

describe('a level', () => {
  it('is the wanted one where nothing overloads: 1 V less 20 dB less 26.02 dB are 5 mV', () => {
    const { levelDbfs, limitedBy, points } = planLevel(hookup, wishes);
    expect([limitedBy, levelDbfs]).toEqual(['wanted', expect.closeTo(-26.0206, 4)]);
    const at1kHz = points.find(({ hz }) => hz === 1000)!;
    // 5 mV with 40 dB are 0.5 V, 6.02 dB below the recorder's full scale.
    expect(at1kHz.inputMv).toBeCloseTo(5, 9);
    expect(at1kHz.outputMv).toBeCloseTo(500, 6);
    expect(at1kHz.backDbfs).toBeCloseTo(-6.0206, 4);
    // Shaped, then played back: as loud at every frequency.
    points.forEach(({ outputMv }) => {
      expect(outputMv).toBeCloseTo(500, 6);
    });
  });

  it('comes down for the player where the treble of a shaped signal would clip', () => {
    const { levelDbfs, limitedBy } = planLevel({ ...hookup, adapterDb: () => -40 }, wishes);
    expect(limitedBy).toBe('player');
    // 19.62 dB up at 20 kHz, and 3 dB are kept free.
    expect(levelDbfs).toBeCloseTo(targetDb('riaa', 20_000) - 3, 9);
  });

  it('comes down for the board where a flat signal through a flat adapter overloads its bass', () => {
    const { levelDbfs, limitedBy, points } = planLevel(
      { ...hookup, recorderVolts: 100 },
      { ...wishes, shaping: 'flat' },
    );
    expect(limitedBy).toBe('board');
    expect(points[0]?.inputMv).toBeCloseTo(50 / 10 ** ((targetDb('riaa', 20) + 6) / 20), 9);
    expect(levelDbfs).toBeLessThan(-26.02);
  });

  it('comes down for the recorder', () => {
    const { limitedBy, points } = planLevel({ ...hookup, recorderVolts: 0.1 }, wishes);
    expect(limitedBy).toBe('recorder');
    expect(Math.max(...points.map(({ backDbfs }) => backDbfs))).toBeCloseTo(-3, 9);
  });

  it('never overloads anything, and stops at the first that would', () => {
    const level = fc.double({ min: 0.01, max: 10, noNaN: true });
    const setting = fc.record({
      player: level,
      recorder: level,
      overload: fc.double({ min: 5e-3, max: 0.5, noNaN: true }),
      adapter: fc.double({ min: -70, max: -10, noNaN: true }),
      rises: fc.boolean(),
      gain: fc.double({ min: 25, max: 60, noNaN: true }),
      shaping: fc.constantFrom('flat' as const, 'inverse_riaa' as const),
    });
    fc.assert(
      fc.property(setting, ({ player, recorder, overload, adapter, rises, gain, shaping }) => {
        const plan = planLevel(
          {
            playerVolts: player,
            recorderVolts: recorder,
            overloadVolts: overload,
            boardGainDb: gain,
            adapterDb: (hz) => adapter - (rises ? targetDb('riaa', hz) : 0),
          },
          { ...wishes, shaping },
        );
        const spares = {
          wanted: 20 * Math.log10(5 / plan.points.find(({ hz }) => hz === 1000)!.inputMv),
          player: -3 - Math.max(...plan.points.map(({ playedDbfs }) => playedDbfs)),
          board:
            -6 -
            Math.max(
              ...plan.points.map(
                ({ hz, inputMv }) => 20 * Math.log10(inputMv / 1000 / overload) + targetDb('riaa', hz),
              ),
            ),
          recorder: -3 - Math.max(...plan.points.map(({ backDbfs }) => backDbfs)),
        };
        // The extremes of these monotonous curves lie at the ends, which the plan shows: rounding only.
        for (const spare of Object.values(spares)) expect(spare).toBeGreaterThan(-1e-9);
        expect(Math.abs(spares[plan.limitedBy])).toBeLessThan(1e-9);
      }),
      { seed: 20261125, numRuns: 300 },
    );
  });
});

describe('a stated adapter', () => {
  it('is the divider that it was stated of, between any generator and load', () => {
    const ohms = fc.double({ min: 10, max: 1e5, noNaN: true });
    fc.assert(
      fc.property(ohms, ohms, ohms, ohms, (series, across, generator, load) => {
        const stated = {
          ratio: (series + across) / across,
          inputOhms: series + across,
          outputOhms: 1 / (1 / series + 1 / across),
        };
        const behind = 1 / (1 / across + 1 / load);
        const expected = 20 * Math.log10(behind / (generator + series + behind));
        // The two-port takes differences of resistances that may lie a factor 1e4 apart.
        expect(Math.abs(statedAdapterDb(stated, generator, load) - expected)).toBeLessThan(1e-9);
      }),
      { seed: 20261125, numRuns: 300 },
    );
  });
});
