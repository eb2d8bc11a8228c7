import type { ChannelPops, PopHit } from '@curvewright/capture';
import { describe, expect, it } from 'vitest';
import { popsFigures } from '../src/figure/pops-figure.ts';
import { svgFigure } from '../src/figure/svg-figure.ts';
import { popsPage, type PopsRecording } from '../src/pops-page.ts';
import { readSvg } from './read-svg.ts';

const hit = (s: number, uv: number, more: Partial<PopHit> = {}): PopHit => ({
  ...{ s, uv, share: uv / 1e4, kind: 'click', both: false, clicks: 1, lastsS: 0 },
  ...more,
});

const channel = (name: string, hits: readonly PopHit[]): ChannelPops => ({
  ...{ name, gainDb: 35.1, minutes: 20, count: hits.length, clicks: hits.length, hits },
  ...{ ratePerMin: hits.length / 20, rateLowPerMin: 0.02, rateHighPerMin: hits.length === 0 ? 0.14979 : 0.4 },
  least: { click: { uv: 2.9, share: 2.9e-4 }, step: { uv: 2.5, share: 2.5e-4 } },
  ...{ drift: null, clipped: 0 },
});

/** Invented. */
const answer: PopsRecording = {
  ...{ recording: 'night.wav', rate: 96_000, threshold: 7, leftMinutes: 0, lost: [], recorderV: 1 },
  channels: [
    channel('left', []),
    channel('right', [
      hit(61.25, 40),
      hit(600, -310, { kind: 'step', both: true }),
      hit(1100, 90, { kind: 'burst', clicks: 20, lastsS: 0.28 }),
    ]),
  ],
  together: { count: 1, byChance: 0.0053 },
  before: null,
};

const page = (change: Partial<PopsRecording> = {}, width = 100): string =>
  popsPage({ ...answer, ...change }, { width, colour: false });

describe('the page of pops', () => {
  it('says how many, how often, and how sure that is', () => {
    expect(page()).toContain('night.wav: pops in 20 min at 96000 frames a second');
    expect(page()).toContain('left: 0 in 20 min: below 0.15 per minute, 95 %');
    expect(page()).toContain('right: 3 in 20 min: 0.15 per minute; above 0.02 with 95 %, below 0.4 per minute, 95 %');
    expect(page()).toContain('At the same time in both: 1; chance alone makes 0.0053.');
  });

  it('lists them at their time', () => {
    const lines = page().split('\n');
    const line = (time: string): string | undefined =>
      lines
        .find((each) => each.includes(time))
        ?.replace(/ +/g, ' ')
        .trim();
    expect(line('1:01.250')).toBe('1:01.250 right click 40 µV');
    expect(line('10:00.000')).toBe('10:00.000 right step −310 µV in both channels');
    expect(line('18:20.000')).toBe('18:20.000 right burst 90 µV 20 clicks in 280 ms');
  });

  it('lists the highest only where there are many', () => {
    const many = Array.from({ length: 30 }, (_, n) => hit(n, 10 + n));
    const text = page({ channels: [channel('mono', many)], together: null });
    expect(text).toContain('The highest 20 of 30:');
    expect(text).not.toContain('0:09.000');
    expect(text).toContain('0:10.000');
  });

  it('draws them over time, the highest as the highest bar', () => {
    const lines = page().split('\n');
    const strip = lines.find((line) => /^right {2}[·▁-█]+$/.test(line))!;
    expect(strip).toHaveLength(100);
    // 93 cells of 20 minutes.
    expect([strip[7 + 4], strip[7 + 46], strip[7 + 85]]).toEqual(['▁', '█', '▄']);
    const below = lines[lines.indexOf(strip) + 1]!;
    expect([below[7 + 4], below[7 + 46], below[7 + 85]]).toEqual([' ', 's', 'b']);
    expect(lines.find((line) => line.startsWith('left   ·'))).toMatch(/^left {3}·+$/);
  });

  it('fits every width', () => {
    for (const width of [60, 75, 110]) {
      for (const line of page({}, width).split('\n')) expect(line.length).toBeLessThanOrEqual(width);
    }
  });

  it('tells what stands in the way of the figures', () => {
    const [left, right] = answer.channels as [ChannelPops, ChannelPops];
    const drift = { from: 1e-3, to: 3e-3, perMin: 1e-4, wander: 1e-5 };
    const text = page({
      channels: [
        { ...left, drift },
        { ...right, clipped: 4, drift: { ...drift, to: 1.005e-3 } },
      ],
      leftMinutes: 40,
      lost: ['it ends early: 1200.000 s of 3600.000 s are there'],
    });
    expect(text).toContain('ended early, 40 min were not looked at');
    expect(text).toContain('▲ it ends early');
    expect(text).toContain('▲ right: 4 samples at full scale');
    // √2 V for full scale.
    expect(text).toContain('left: the level (dc) drifts from 1.41 mV to 4.24 mV at the recorder, 141 µV a minute.');
    expect(text).not.toContain('right: the level');
  });

  it('has heights re full scale where nothing else is known', () => {
    const bare = answer.channels.map((each) => ({
      ...each,
      gainDb: null,
      hits: each.hits.map((one) => ({ ...one, uv: null })),
    }));
    const text = page({ channels: bare, recorderV: null });
    expect(text).toContain('−30.2 dBFS');
    expect(text).toContain('say --recorder, and --gain or --job');
  });

  it('compares with what was before', () => {
    const change = { before: 24, after: 3, ratio: 0.125, ratioLow: 0.034, ratioHigh: 0.35, chance: 4.9e-5 };
    const none = { before: 0, after: 0, ratio: null, ratioLow: 0, ratioHigh: null, chance: 1 };
    const text = page({
      before: {
        recording: 'found.wav',
        changes: [
          { name: 'left', ...none, verdict: 'no change shown' },
          { name: 'right', ...change, verdict: 'fewer' },
        ],
      },
    });
    expect(text).toContain('Against found.wav');
    expect(text).toContain('left: 0 before, 0 after: no change shown (by chance alone 100 %).');
    expect(text.replaceAll('\n', ' ')).toContain(
      'right: 24 before, 3 after: fewer (by chance alone 0.0049 %). The rate is 0.13 times the one before; above 0.034 with 95 %, below 0.35, 95 %.',
    );
  });
});

describe('the picture of pops', () => {
  it('has a point for each, on the same scales for every channel', () => {
    const [left, right] = popsFigures(answer);
    expect(right!.series[0]!.y).toEqual([40, 310, 90]);
    expect(right!.series[0]!.x).toEqual([61.25 / 60, 10, 1100 / 60]);
    expect([left!.x, left!.y]).toEqual([right!.x, right!.y]);
    expect(right!.words).toContain('A step of 310 µV at 10.00 min.');
    const drawn = readSvg(svgFigure(right!, { size: 'full', ink: 'light', titled: true }));
    // Three, each with a note, and the one in the key.
    expect(drawn.filter(({ name }) => name === 'circle')).toHaveLength(7);
  });

  it('is none where there is no pop', () => {
    expect(popsFigures({ ...answer, channels: [channel('left', [])] })).toEqual([]);
  });
});
