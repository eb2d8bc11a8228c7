import type { SteadySearch, SteadyState } from '@curvewright/network';
import { describe, expect, it } from 'vitest';
import { excess, overloadedBy, thdOf } from '../src/distortion.ts';
import { risingStates, searchBeyond, searchOverload, toldLevels } from '../src/overload-search.ts';

/** A state with so much third harmonic, and a gain of 1 less what is lost. */
function stateOf(inputVolts: number, thd: number, lost: number = 0): SteadyState {
  const linear = Float64Array.of(inputVolts * Math.SQRT2, 0);
  const output = new Float64Array(64);
  output[2] = linear[0]! * 10 ** (-lost / 20);
  output[6] = thd * output[2];
  return { inputVolts, output, linear, parts: [], start: { open: linear, moves: linear } };
}

/** Every steady state of a stage whose distortion over level is known; none where it is NaN. */
function searchIn(thd: (volts: number) => number, lost?: (volts: number) => number): SteadySearch {
  return {
    hz: 1000,
    at: (volts) => (Number.isNaN(thd(volts)) ? null : stateOf(volts, thd(volts), lost?.(volts))),
  };
}

describe('the search for overload', () => {
  it.each([
    ['soft', (volts: number) => 0.1 * volts, 0.1],
    ['sudden', (volts: number) => 1e-4 + Math.max(0, volts - 0.3), 0.3099],
    ['by steps', (volts: number) => (volts < 0.123 ? 0.002 : 0.05), 0.123],
  ])('finds a %s one to a thousandth', (_, thd, wanted) => {
    const { found, brokenOff, triedVolts } = searchOverload(searchIn(thd));
    expect(found!.within).toBeLessThan(2e-3);
    expect(Math.abs(found!.state.inputVolts / wanted - 1)).toBeLessThanOrEqual(found!.within);
    expect(brokenOff).toBe(false);
    expect(triedVolts).toBeGreaterThanOrEqual(found!.state.inputVolts);
  });

  it('takes a gain lost by 1 dB where it comes first', () => {
    const search = searchIn(
      (volts) => 0.01 * volts,
      (volts) => volts / 0.4,
    );
    const { state } = searchOverload(search).found!;
    expect(Math.abs(state.inputVolts / 0.4 - 1)).toBeLessThan(1e-3);
    expect(overloadedBy(state)).toBe('compression');
  });

  it('tells a stage without overload from a search that broke off', () => {
    expect(searchOverload(searchIn(() => 1e-5))).toMatchObject({ found: null, triedVolts: 5, brokenOff: false });
    const broken = searchOverload(searchIn((volts) => (volts < 0.07 ? 1e-5 : NaN)));
    expect(broken).toMatchObject({ found: null, brokenOff: true });
    expect(broken.triedVolts).toBeLessThan(0.07);
    // Steps down to 3 in a thousand.
    expect(broken.triedVolts).toBeGreaterThan(0.07 / 1.003 ** 2);
    expect(broken.told.map(({ inputVolts }) => inputVolts)).toEqual([1e-3, 2e-3, 5e-3, 0.01, 0.02, 0.05]);
    expect(searchOverload(searchIn(() => NaN))).toMatchObject({ found: null, triedVolts: 0, brokenOff: true });
  });

  it('bounds an overload by the states around it where there are none between', () => {
    const { found } = searchOverload(searchIn((volts) => (volts > 0.06 && volts < 0.09 ? NaN : 0.14 * volts)));
    expect(found!.within).toBeGreaterThan(0.4);
    expect(Math.abs(found!.state.inputVolts / (0.01 / 0.14) - 1)).toBeLessThan(found!.within);
  });

  it('goes on with jumps smoothed, bounded by where it broke off', () => {
    const broken = searchOverload(searchIn((volts) => (volts < 0.07 ? 0.1 * volts : NaN)));
    const smoothed = searchIn((volts) => 0.01 * (volts / 0.072) ** 3);
    const { found, brokenOff, told } = searchBeyond(smoothed, broken);
    expect(Math.abs(found!.state.inputVolts / 0.072 - 1)).toBeLessThan(1e-3);
    expect(found!.within).toBeCloseTo(found!.state.inputVolts / broken.triedVolts - 1, 9);
    expect([brokenOff, told]).toEqual([false, broken.told]);
    expect(
      searchBeyond(
        searchIn(() => NaN),
        broken,
      ),
    ).toEqual(broken);
    // Too far beyond to be put down to the jump.
    expect(
      searchBeyond(
        searchIn((volts) => 0.05 * volts),
        broken,
      ),
    ).toEqual(broken);
  });
});

describe('states at growing levels', () => {
  it('come through every level asked for', () => {
    const levels = [
      ...risingStates(
        searchIn(() => 1e-3),
        toldLevels,
      ),
    ].map(({ inputVolts }) => inputVolts);
    expect(levels.filter((level) => toldLevels.includes(level))).toEqual(toldLevels);
  });
});

describe('distortion of a state', () => {
  it('is read off its harmonics, with overload where it or the gain lost passes its limit', () => {
    expect(thdOf(stateOf(0.1, 0.02))).toBeCloseTo(0.02, 12);
    expect(excess(stateOf(0.1, 0.01))).toBeCloseTo(0, 9);
    expect(excess(stateOf(0.1, 0.02))).toBeCloseTo(Math.log(2), 9);
    expect(excess(stateOf(0.1, 1e-9, 1))).toBeCloseTo(0, 9);
  });
});
