import type { ChannelSettling, SettleAnswer } from '@curvewright/verify';
import { describe, expect, it } from 'vitest';
import { settlePage } from '../src/index.ts';
import { swingChart } from '../src/swing-chart.ts';
import { lineWith, widestOf } from './lines.ts';

const page = { title: 'Larkfield LK 417', state: 'rebuilt', width: 80, colour: false } as const;

function channel(name: string, more: Partial<ChannelSettling> = {}): ChannelSettling {
  const points = [
    { s: 0, volts: 0 },
    { s: 0.25, volts: 8 },
    { s: 0.5, volts: -2 },
    { s: 1, volts: 0 },
  ];
  return { name, settleS: 0.8, peakV: 8, highestV: 8, lowestV: -2, settledV: 0, points, ...more };
}

function answer(more: Partial<SettleAnswer> = {}): SettleAnswer {
  return {
    rampS: 0.3,
    withinV: 0.01,
    channels: [channel('left'), channel('right')],
    parts: [{ ref: 'C101', between: 'plus-minus', highestV: 12.5, lowestV: -0.25, settledV: 11 }],
    integrator: 'a rule',
    steps: { taken: 554, rejected: 21, newton: 2000 },
    endS: 1,
    fromBiasV: 1e-7,
    trouble: null,
    notes: ['Valves are taken as hot from the start.'],
    ...more,
  };
}

describe('the switch-on page', () => {
  it('says how long, how far, and what each part sees', () => {
    const text = settlePage(answer(), page);
    expect(text).toContain('Larkfield LK 417, as rebuilt: switching on');
    expect(lineWith(text, 'settles to 10 mV')).toMatch(/800 ms +800 ms$/);
    expect(lineWith(text, 'highest on the way')).toMatch(/8\.00 +8\.00$/);
    expect(lineWith(text, 'C101')).toMatch(/plus-minus +12\.5 +−0\.250 +11\.0$/);
    expect(text).toContain('All rails rise together in 300 ms');
    expect(text).toContain('Valves are taken as hot');
    expect(widestOf(text)).toBeLessThanOrEqual(80);
  });

  it('draws channels that do the same once, others each', () => {
    expect(settlePage(answer(), page)).toContain('The output, every channel, from switch-on');
    const apart = settlePage(answer({ channels: [channel('left'), channel('right', { peakV: 9 })] }), page);
    expect(apart).toContain('The output, left channel');
    expect(apart).toContain('The output, right channel');
  });

  it('an output that does not settle has a dash, and the reason stands below', () => {
    const text = settlePage(
      answer({ channels: [channel('mono', { settleS: null })], trouble: 'it keeps swinging' }),
      page,
    );
    expect(lineWith(text, 'settles to')).toMatch(/–$/);
    expect(lineWith(text, 'Not at its bias')).toContain('it keeps swinging');
  });
});

describe('the swing chart', () => {
  it('stands between the highest and the lowest, with 0 V marked', () => {
    const lines = swingChart(channel('mono').points, 1, { width: 49, colour: false });
    expect(lines[1]).toMatch(/^ +8\.00┤ {9}┃┃$/);
    expect(lines.find((line) => line.includes(' 0.00┤'))).toBeDefined();
    expect(lines[9]).toMatch(/^ +−2\.00┤ {19}┃━+┃$/);
    expect(lines.at(-1)).toMatch(/^ +0 +1 s$/);
  });

  it('is a line where nothing happens', () => {
    const lines = swingChart([{ s: 0, volts: 0 }], 1, { width: 40, colour: false });
    expect(lines[1]).toMatch(/^ +0\.00┤━+$/);
  });
});
