import { readBoard } from '@curvewright/board';
import { riaaTimes, targetDb } from '@curvewright/curves';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { adapterAnswer, adapterBoard, adapterDb, designAdapter, type AdapterWishes } from '../../src/index.ts';
import { adapterErrorDb, type Adapter } from '../../src/adapter/adapter.ts';
import { worstAdapterError } from '../../src/adapter/design-adapter.ts';

const usual: AdapterWishes = {
  shaping: 'inverse_riaa',
  attenuationDb: 42,
  generator: 100,
  load: 47_000,
  series: 'E24',
};

function designed(wishes: AdapterWishes): Adapter {
  const adapter = designAdapter(wishes);
  if (adapter === null) throw new Error('no adapter');
  return adapter;
}

describe('an adapter’s gain', () => {
  it('of a divider is that of its resistors: 9 kΩ over 1 kΩ takes 20 dB off', () => {
    const divider: Adapter = { shaping: 'flat', series: 9000, across: 1000 };
    expect(adapterDb(divider, { generator: 0, load: Infinity }, 1000)).toBeCloseTo(-20, 12);
    // 2 kΩ ∥ 2 kΩ behind 600 Ω + 8400 Ω.
    expect(adapterDb({ ...divider, series: 8400, across: 2000 }, { generator: 600, load: 2000 }, 1000)).toBeCloseTo(
      -20,
      12,
    );
  });

  it('of exact sections is the inverse curve, down by one more pole alone', () => {
    const { T1, T2, T3 } = riaaTimes;
    const [R0, Rt] = [1e6, 1000];
    // Rt·T1·T3/(R0·T2), as the loop's impedance R0·(1 + sT2)(1 + sT4)/((1 + sT1)(1 + sT3)) has it for s → ∞.
    const T4 = (Rt * T1 * T3) / (R0 * T2);
    const R1 = (R0 * (T1 - T2) * (T1 - T4)) / (T1 * (T1 - T3));
    const R2 = (R0 * (T2 - T3) * (T3 - T4)) / (T3 * (T1 - T3));
    // Lipshitz's first network (JAES 27(6), 1979, ratios from memory) is the limit without Rt: R1/R2 = 11.7778.
    expect(R1 / R2).toBeGreaterThan(11.7);
    const adapter: Adapter = {
      shaping: 'inverse_riaa',
      bass: { resistors: [R1], capacitors: [T1 / R1] },
      treble: { resistors: [R2], capacitors: [T3 / R2] },
      across: Rt,
    };
    const pole = (hz: number): number => -10 * Math.log10(1 + (2 * Math.PI * hz * T4) ** 2);
    for (const hz of [20, 100, 1000, 5000, 20_000, 100_000]) {
      const error = adapterErrorDb(adapter, { generator: 0, load: Infinity }, hz);
      // Six sums and products in double precision.
      expect(Math.abs(error - (pole(hz) - pole(1000)))).toBeLessThan(1e-9);
    }
  });
});

describe('a design', () => {
  it.each([
    [38, 100],
    [42, 0],
    [42, 100],
    [42, 600],
    [50, 100],
    [60, 600],
  ])('of inverse RIAA for %i dB behind %i Ω keeps the curve to 0.06 dB', (attenuationDb, generator) => {
    const wishes = { ...usual, attenuationDb, generator };
    const adapter = designed(wishes);
    // What this program claims for itself; the parts’ own 1 % moves more (0.07 dB each).
    expect(Math.abs(worstAdapterError(adapter, wishes).db)).toBeLessThan(0.06);
    expect(Math.abs(adapterDb(adapter, wishes, 1000) + attenuationDb)).toBeLessThan(1);
  });

  // The widest step of E24 is 18 to 20, 0.915 dB; a divider moves by no more than its series resistor.
  const halfStep = 0.46;

  it('of a flat divider comes within half a step of E24 of its level', () => {
    fc.assert(
      fc.property(fc.integer({ min: 12, max: 60 }), fc.constantFrom(0, 50, 100), (attenuationDb, generator) => {
        const wishes: AdapterWishes = { ...usual, shaping: 'flat', attenuationDb, generator };
        expect(Math.abs(adapterDb(designed(wishes), wishes, 1000) + attenuationDb)).toBeLessThan(halfStep);
      }),
      { seed: 20261125, numRuns: 60 },
    );
  });

  it('is refused where it would not keep its curve, or attenuates less than the generator does', () => {
    expect(designAdapter({ ...usual, attenuationDb: 6 })).toBeNull();
    expect(designAdapter({ ...usual, shaping: 'flat', attenuationDb: 1, generator: 10_000 })).toBeNull();
  });

  it('says what another generator and each part moves, as the same adapter there has it', () => {
    const adapter = designed(usual);
    const answer = adapterAnswer(adapter, usual);
    for (const { ohms, levelDb, worstDb } of answer.generators) {
      const there = { ...usual, generator: ohms };
      expect(levelDb).toBe(adapterDb(adapter, there, 1000));
      expect(worstDb).toBe(worstAdapterError(adapter, there).db);
    }
    // One percent of what stands across the input is 0.0864 dB, less its share of the load.
    expect(answer.parts.at(-1)?.levelDb).toBeGreaterThan(0.08);
    expect(answer.parts.at(-1)?.levelDb).toBeLessThan(0.0864);
    // A constant times RC: a percent of R or of C moves the curve by at most a percent, 0.0864 dB.
    answer.parts.forEach(({ curveDb }) => {
      expect(Math.abs(curveDb)).toBeLessThan(0.0864);
    });
    expect(answer.points.find(({ hz }) => hz === 20)?.gainDb).toBeCloseTo(answer.gainDb - targetDb('riaa', 20), 1);
  });
});

describe('the board file of an adapter', () => {
  it.each(['flat', 'inverse_riaa'] as const)('%s is one that can be read, with the values of the design', (shaping) => {
    const wishes = { ...usual, shaping, attenuationDb: shaping === 'flat' ? 20 : 42 };
    const adapter = designed(wishes);
    const board = readBoard(adapterBoard(adapter, wishes), 'adapter.board.yaml');
    if (!board.ok) throw new Error(board.diagnostics.map(({ message }) => message).join('\n'));
    const { circuit } = board.value;
    expect(circuit.channels.map(({ name }) => name)).toEqual(['left', 'right']);
    const left = circuit.parts.filter(({ channel }) => channel === 'left');
    const sections = adapter.shaping === 'flat' ? [] : [adapter.bass, adapter.treble];
    const series = adapter.shaping === 'flat' ? [adapter.series] : sections.flatMap(({ resistors }) => resistors);
    expect(left.flatMap((part) => (part.kind === 'resistor' ? [part.ohms] : []))).toEqual([
      100,
      ...series,
      adapter.across,
    ]);
    expect(left.flatMap((part) => (part.kind === 'capacitor' ? [part.farads] : []))).toEqual(
      sections.flatMap(({ capacitors }) => capacitors),
    );
  });

  it('holds odd impedances as they were stated', () => {
    const text = adapterBoard({ shaping: 'flat', series: 3300, across: 390 }, { generator: 75.5, load: 51_230 });
    expect(text).toContain('value: 75.5 Ω');
    expect(text).toContain('resistance: 51.23 kΩ');
    expect(adapterBoard({ shaping: 'flat', series: 3300, across: 390 }, { generator: 0, load: 47_000 })).not.toContain(
      'value: 0',
    );
  });
});
