import { describe, expect, it, vi } from 'vitest';
import { listen, type ListenAnswer, type ListenInput, type Wav } from '../../src/index.ts';
import { madeRecording, rounded, shortPlan } from './made-recording.ts';

// Each recording is worked through as a whole: a second, and much longer where a busy machine runs it.
vi.setConfig({ testTimeout: 120_000 });

const plan = shortPlan();
const clean = madeRecording(plan);
const lead = 12_345;
const { rate } = plan;

function heard(recording: Wav, more: Partial<ListenInput> = {}): ListenAnswer {
  return listen({
    plan,
    recording,
    loopback: null,
    shorted: null,
    adapter: null,
    chain: null,
    level: null,
    fullScale: null,
    ...more,
  });
}

function codesOf({ problems }: ListenAnswer): string[] {
  return [...new Set(problems.map(({ code }) => code))];
}

function withChannels(change: (samples: Float64Array, channel: number) => Float64Array): Wav {
  const channels = clean.channels.map((samples, n) => change(samples.slice(), n));
  return { ...clean, channels, frames: channels[0]!.length };
}

/** Sample of the recording at a moment of the plan. */
function sampleAt(at: number): number {
  return lead + Math.round(at * rate);
}

const segment = (kind: string): { at: number; seconds: number } => plan.segments.find((each) => each.kind === kind)!;

describe('a clean recording', () => {
  it('has no problem, with noise and nearly without', () => {
    expect(heard(madeRecording(plan, { bits: 24, noise: 1e-6 })).problems).toEqual([]);
    expect(heard(madeRecording(plan, { noise: 3e-3 })).problems).toEqual([]);
  });
});

describe('what is wrong with a recording is named, with its time', () => {
  it('clipping at full scale', () => {
    const loud = heard(withChannels((samples) => samples.map((x) => rounded(2.5 * x, 16))));
    expect(codesOf(loud)).toEqual(['clipping']);
    const [first] = loud.problems;
    expect(first?.message).toContain('full scale');
    // The bass of the left sweep is the loudest: it lies 19 dB above 1 kHz.
    const left = sampleAt(segment('sweep').at) / rate;
    expect(first?.fromS).toBeGreaterThanOrEqual(left - 0.1);
    expect(first?.fromS).toBeLessThan(left + 2);
  });

  it('clipping below full scale, of one half of the wave', () => {
    const cut = heard(withChannels((samples) => samples.map((x) => rounded(Math.max(x, -0.15), 16))));
    expect(codesOf(cut)).toEqual(['clipping']);
    expect(cut.problems[0]?.message).toContain('below full scale');
  });

  it('a mono mix-down, and exchanged channels', () => {
    const [left, right] = clean.channels;
    const mix = left!.map((x, n) => (x + right![n]!) / 2);
    const mixed = heard({ ...clean, channels: [mix, mix.slice()] });
    expect(codesOf(mixed)).toEqual(['mono-mix']);
    expect(mixed.balanceDb).toBeNull();
    expect(codesOf(heard({ ...clean, channels: [mix] }))).toEqual(['mono-mix']);
    expect(codesOf(heard({ ...clean, channels: [right!, left!] }))).toEqual(['channels-swapped']);
    const alone = heard({ ...clean, channels: [right!] });
    expect(codesOf(alone)).toEqual(['one-channel']);
    expect(alone.channels.map(({ name }) => name)).toEqual(['right']);
  });

  it('a level control', () => {
    const riding = heard(withChannels(levelled));
    expect(codesOf(riding)).toEqual(['level-control']);
    const [first] = riding.problems;
    const tone = sampleAt(segment('level').at) / rate;
    expect(first?.fromS).toBeGreaterThan(tone);
    expect(first?.fromS).toBeLessThan(tone + segment('level').seconds);
  });

  it('a noise gate', () => {
    const silence = segment('silence');
    const shut = heard(
      withChannels((samples) =>
        samples.map((x, n) =>
          n > sampleAt(silence.at + 0.3) && n < sampleAt(silence.at + silence.seconds) ? rounded(x / 30, 16) : x,
        ),
      ),
    );
    expect(codesOf(shut)).toEqual(['noise-gate']);
    expect(shut.problems[0]?.fromS).toBeCloseTo(sampleAt(silence.at) / rate, 2);
  });

  it.each([
    ['while the sweep passes 1 kHz or so', 2.6],
    ['in its bass', 0.9],
  ])('a dropped buffer %s', (_, into) => {
    const at = sampleAt(segment('sweep').at + into);
    // 256 frames, a small buffer of a sound card.
    const torn = heard(
      withChannels((samples) => Float64Array.from([...samples.subarray(0, at), ...samples.subarray(at + 256)])),
    );
    expect(codesOf(torn)).toContain('dropped');
    const dropped = torn.problems.find(({ code }) => code === 'dropped');
    expect(dropped?.fromS).toBeCloseTo(at / rate, 1);
    expect(dropped?.message).toContain('are missing');
  });

  it('markers that are missing', () => {
    const early = sampleAt(plan.segments.at(-1)!.at);
    expect(codesOf(heard(withChannels((samples) => samples.slice(0, early))))).toEqual(['no-end-marker']);
    const late = sampleAt(plan.segments[1]!.at) - 1000;
    const headless = heard(withChannels((samples) => samples.slice(late)));
    expect(codesOf(headless)).toEqual(['no-start-marker']);
    expect(headless.clock?.ppm).toBeNull();
    const nothing = heard(withChannels((samples) => samples.slice(0, rate)));
    expect(codesOf(nothing)).toEqual(['no-start-marker']);
    expect(nothing.channels).toEqual([]);
  });

  it('a wrong sample rate, and a truncated file', () => {
    // The file says 48 kHz and was played at 44.1 kHz: everything lasts longer.
    const slow = withChannels((samples) =>
      Float64Array.from({ length: Math.floor((samples.length * 48) / 44.1) - 2 }, (_, n) =>
        between(samples, (n * 44.1) / 48),
      ),
    );
    expect(codesOf(heard(slow))).toEqual(['wrong-rate']);
    expect(codesOf(heard({ ...clean, lost: ['the last 12 bytes'] }))).toEqual(['truncated']);
  });
});

/** A speech recorder's control: attack 5 ms, release 2 s, everything above −22 dB re full scale turned down. */
function levelled(samples: Float64Array): Float64Array {
  let envelope = 0;
  return samples.map((x) => {
    const size = Math.abs(x);
    envelope += (size - envelope) / (size > envelope ? 0.005 * rate : 2 * rate);
    return rounded(x * Math.min(1, 0.08 / Math.max(envelope, 1e-9)) ** 0.5, 16);
  });
}

function between(samples: Float64Array, at: number): number {
  const n = Math.floor(at);
  return samples[n]! + (at - n) * (samples[n + 1]! - samples[n]!);
}
