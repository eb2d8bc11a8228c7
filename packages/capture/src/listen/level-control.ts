import type { Trouble } from './problem.ts';

/** A level that should be the same as another. */
export interface LevelReading {
  /** s from the start of the recording. */
  readonly fromS: number;
  readonly toS: number;
  /** dB, of whatever is the same for all. */
  readonly db: number;
}

/** dB by which a steady tone, the markers, or a tone and a sweep as it passes it may differ: noise at 30 dB below makes 0.2. */
const steadyWithin = 0.3;
const alikeWithin = 0.5;

/** A recorder that turns its level by itself (speech functions of phones do): a steady tone that does not stay, or equal levels that came back unequal. */
export function levelControl(
  channel: string,
  steady: readonly (readonly LevelReading[])[],
  alike: readonly (readonly [LevelReading, LevelReading])[],
): readonly Trouble[] {
  const wandering = steady.flatMap((blocks) => {
    const levels = blocks.map(({ db }) => db);
    return Math.max(...levels) - Math.min(...levels) > steadyWithin ? [[blocks[0]!, blocks.at(-1)!] as const] : [];
  });
  const unlike = alike.filter(([a, b]) => Math.abs(a.db - b.db) > alikeWithin);
  const [first] = [...wandering, ...unlike];
  if (first === undefined) return [];
  const [from, to] = first;
  return [
    {
      code: 'level-control',
      channel,
      fromS: Math.min(from.fromS, to.fromS),
      toS: Math.max(from.toS, to.toS),
      message: `the level moved by itself (${change(to.db - from.db)} dB between equal levels): switch automatic level control and voice functions off, and record again`,
    },
  ];
}

/** The level of blocks of a steady stretch. */
export function steadyBlocks(samples: Float64Array, rate: number, startS: number): readonly LevelReading[] {
  const size = Math.round(0.25 * rate);
  return Array.from({ length: Math.floor(samples.length / size) }, (_, n) => {
    const block = samples.subarray(n * size, (n + 1) * size);
    const mean = block.reduce((sum, x) => sum + x, 0) / size;
    const power = block.reduce((sum, x) => sum + (x - mean) ** 2, 0) / size;
    return { fromS: startS + (n * size) / rate, toS: startS + ((n + 1) * size) / rate, db: 10 * Math.log10(power) };
  });
}

function change(db: number): string {
  return `${db < 0 ? '−' : '+'}${Math.abs(db).toFixed(1)}`;
}
