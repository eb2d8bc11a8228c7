import type { FigureName } from '../judge.ts';
import { extreme } from './sweep.ts';
import { writeValues } from './draw.ts';
import type { SpreadRunner } from './runner.ts';

/** dB over the draw of each group (its whole tolerance), of each channel's gain at each frequency of the sweep: `[group][channel][frequency]`. */
export type Slopes = readonly (readonly Float64Array[])[];

/** Every part at the end of its tolerance that drives one figure one way. */
export interface Corner {
  readonly what: FigureName;
  readonly channel: number | null;
  readonly side: 'low' | 'high';
  /** Where the slopes expect the worst, Hz. */
  readonly hz: number;
  /** With nominal values, at that frequency, dB. */
  readonly nominalDb: number;
  /** What the slopes expect there, dB. */
  readonly expectedDb: number;
  /** The worst of the figure's band as solved, dB; null where that board has no bias. */
  readonly db: number | null;
  /** What each part brings by the slopes, and the end it stands at; most first, without those that bring less than a thousandth of the most. */
  readonly parts: readonly { readonly ref: string; readonly at: 'low' | 'high'; readonly db: number }[];
}

/** A figure as a sum over the channels' gains, less what it is held against. */
interface Target {
  readonly what: FigureName;
  readonly channel: number | null;
  readonly from: number;
  readonly to: number;
  readonly mix: (gains: readonly Float64Array[], i: number) => number;
  readonly less: (i: number) => number;
}

/** Part of its tolerance by which a draw is moved either way: its error grows with the square, rounding with the inverse. */
const step = 0.005;

/** Central differences around the nominal board; a group without a bias at either side has no slope. */
export function centralSlopes({ draws, live, reader }: SpreadRunner): Slopes {
  const values = new Float64Array(live.parameters.length);
  return draws.groups.map(({ members }) => {
    const solvedAt = (share: number): readonly Float64Array[] | null => {
      values.set(draws.nominal);
      for (const { index, low, high } of members) values[index] = values[index]! + share * (high - low);
      if (!live.solve(values)) return null;
      reader.readGains();
      return reader.gains.map((gain) => gain.slice());
    };
    const [below, above] = [solvedAt(-step), solvedAt(step)];
    return reader.gains.map((gain, c) => {
      const [low, high] = [below?.[c], above?.[c]];
      return gain.map((_, i) => (low && high ? (high[i]! - low[i]!) / (2 * step) : 0));
    });
  });
}

/** The worst corners of deviation, bass, treble, gain and balance, each found from the slopes and then solved. */
export function cornersOf(runner: SpreadRunner, slopes: Slopes): readonly Corner[] {
  const { draws, live, reader } = runner;
  live.solve(draws.nominal);
  reader.readGains();
  const nominal = reader.gains.map((gain) => gain.slice());
  return targetsOf(runner).flatMap((target) =>
    ([-1, 1] as const).map((sign) => cornerOf(runner, slopes, nominal, target, sign)),
  );
}

function cornerOf(
  { draws, live, reader, sweep }: SpreadRunner,
  slopes: Slopes,
  nominal: readonly Float64Array[],
  { what, channel, from, to, mix, less }: Target,
  sign: 1 | -1,
): Corner {
  /** What a group brings in this direction at the better of its ends. */
  const brings = (g: number, i: number): { readonly end: 0 | 1; readonly db: number } => {
    const slope = mix(slopes[g]!, i);
    const at = draws.groups[g]!.nominal;
    const end = sign * slope > 0 ? 1 : 0;
    return { end, db: slope * (end - at) };
  };
  const groups = [...draws.groups.keys()];
  const expected = (i: number): number => groups.reduce((sum, g) => sum + brings(g, i).db, mix(nominal, i) - less(i));
  let worst = from;
  for (let i = from + 1; i <= to; i++) if (sign * (expected(i) - expected(worst)) > 0) worst = i;

  const values = new Float64Array(live.parameters.length);
  const ends = groups.map((g) => brings(g, worst));
  writeValues(
    draws,
    ends.map(({ end }) => end),
    values,
  );
  const solved = live.solve(values);
  reader.readGains();
  const curve = sweep.hz.map((_, i) => mix(reader.gains, i) - less(i));
  const most = Math.max(...ends.map(({ db }) => Math.abs(db)));
  return {
    what,
    channel,
    side: sign < 0 ? 'low' : 'high',
    hz: sweep.hz[worst]!,
    nominalDb: mix(nominal, worst) - less(worst),
    expectedDb: expected(worst),
    db: solved ? extreme(curve, sweep.logHz, from, to, sign) : null,
    parts: ends
      .flatMap(({ end, db }, g) =>
        draws.groups[g]!.refs.map((ref) => ({ ref, at: end === 1 ? ('high' as const) : ('low' as const), db })),
      )
      .filter(({ db }) => Math.abs(db) > most / 1000)
      .toSorted((a, b) => Math.abs(b.db) - Math.abs(a.db)),
  };
}

function targetsOf({ plan, sweep, reader }: SpreadRunner): readonly Target[] {
  const { limits, drawn } = plan;
  const { reference } = sweep;
  const ofChannel = reader.gains.flatMap((_, channel): Target[] => {
    const deviation = {
      channel,
      mix: (gains: readonly Float64Array[], i: number): number => gains[channel]![i]! - gains[channel]![reference]!,
      less: (i: number): number => sweep.target[i]!,
    };
    const bass = sweep.at(limits.bass.at);
    return [
      { what: 'deviation', ...deviation, from: sweep.at(limits.deviation.from), to: sweep.at(limits.deviation.to) },
      { what: 'bass', ...deviation, from: bass, to: bass },
      { what: 'treble', ...deviation, from: sweep.at(limits.treble.from), to: sweep.at(limits.treble.to) },
      {
        what: 'gain',
        channel,
        from: reference,
        to: reference,
        mix: (gains, i) => gains[channel]![i]!,
        less: () => drawn.gainsDb[channel]!,
      },
    ];
  });
  if (reader.gains.length < 2) return ofChannel;
  const balance: Target = {
    what: 'balance',
    channel: null,
    from: sweep.at(limits.balance.from),
    to: sweep.at(limits.balance.to),
    mix: (gains, i) => gains[0]![i]! - gains.at(-1)![i]!,
    less: () => 0,
  };
  return [...ofChannel, balance];
}
