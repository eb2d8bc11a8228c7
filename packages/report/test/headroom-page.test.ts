import type { ChannelHeadroom, HeadroomAnswer, Overload } from '@curvewright/verify';
import { describe, expect, it } from 'vitest';
import { headroomPage } from '../src/index.ts';
import { lineWith, widestOf } from './lines.ts';

const page = { title: 'Larkfield LK 417', state: 'rebuilt', width: 80, colour: false } as const;

const found: Overload = {
  hz: 1000,
  inputMv: 128.6,
  withinPercent: 0.1,
  above5mvDb: 28.2,
  by: 'distortion',
  limitedBy: 'Q103',
  share: 0.62,
  outputV: 8.1,
  triedMv: 137,
  unresolved: false,
};

const none: Overload = {
  hz: 20_000,
  inputMv: null,
  withinPercent: null,
  above5mvDb: null,
  by: null,
  limitedBy: null,
  share: null,
  outputV: null,
  triedMv: 5000,
  unresolved: false,
};

const left: ChannelHeadroom = {
  name: 'left',
  overload: [found, none],
  points: [
    { hz: 1000, inputMv: 5, thdPercent: 0.00123 },
    { hz: 1000, inputMv: 100, thdPercent: 0.4567 },
    { hz: 20_000, inputMv: 5, thdPercent: 1e-9 },
  ],
};

const answer: HeadroomAnswer = { channels: [left] };

describe('the headroom page', () => {
  const text = headroomPage(answer, page);

  it('says where a channel overloads and which part limits', () => {
    expect(text).toContain('Larkfield LK 417, as rebuilt: headroom');
    expect(lineWith(text, 'Q103')).toMatch(/1 kHz +129 +\+28\.2 +8\.1 V +Q103, 62 % of the distortion$/);
  });

  it('tells a stage that takes all that was tried from one of which nothing is known', () => {
    const unknown = { ...none, triedMv: 582, unresolved: true };
    const never = { ...unknown, hz: 100, triedMv: 0 };
    const other = headroomPage({ channels: [{ ...left, overload: [unknown, never] }] }, { ...page, width: 110 });
    expect(lineWith(text, 'takes all')).toMatch(/20 kHz.*takes all of 5000 mV, the most tried$/);
    expect(lineWith(other, 'beyond that')).toMatch(
      /20 kHz.*not known: below it up to 582 mV, beyond that no steady state found$/,
    );
    expect(lineWith(other, 'any level')).toMatch(/100 Hz.*not known: no steady state found at any level$/);
  });

  it('says how closely a level is known where that is less than it prints', () => {
    const loose = { ...found, withinPercent: 2.8 };
    const other = headroomPage({ channels: [{ ...left, overload: [loose] }] }, { ...page, width: 110 });
    expect(lineWith(other, 'Q103')).toMatch(/of the distortion; input known within 3 %$/);
    expect(lineWith(text, 'Q103')).not.toContain('within');
  });

  it('calls a part that brings it all so, and compression a loss of gain', () => {
    const all = { ...found, by: 'compression', share: 1.03 } as const;
    const other = headroomPage({ channels: [{ ...left, overload: [all] }] }, page);
    expect(lineWith(other, 'Q103')).toMatch(/Q103, all of the gain lost$/);
  });

  it('tables distortion over level with a place left where a level was not reached', () => {
    expect(lineWith(text, '5.0 mV')).toMatch(/5\.0 mV +0\.0012 +<0\.0001$/);
    expect(lineWith(text, '100 mV')).toMatch(/100 mV +0\.46$/);
  });

  it.each([60, 80, 110])('fits %i cells', (width) => {
    expect(widestOf(headroomPage(answer, { ...page, width }))).toBeLessThanOrEqual(width);
  });
});
