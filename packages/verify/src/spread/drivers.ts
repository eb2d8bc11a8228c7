import type { LiveParameter } from '@curvewright/network';
import type { FigureName } from '../judge.ts';
import { uniform } from './uniform.ts';
import type { Draws } from './draw.ts';
import type { Sample } from './tally.ts';
import type { FigureVerdicts } from './yield.ts';

/** A part that stands out on the boards that miss a limit. */
export interface Driver {
  readonly ref: string;
  /** Other designators that are drawn with it. */
  readonly alike: readonly string[];
  readonly parameter: LiveParameter['parameter'];
  /**
   * How far its mean on those boards lies from its mean on all, in standard deviations of its draw: over all limits that are missed, each
   * by the number of its boards and for each end of it by itself.
   */
  readonly sigmas: number;
  /** Where it stands out most: the limit, the channel's index, whether the figure is too low or too high there, and how far the part lies. */
  readonly what: FigureName;
  readonly channel: number | null;
  readonly figureIs: 'low' | 'high';
  readonly partIs: 'low' | 'high';
}

export interface Drivers {
  /** Boards looked at: those that fail, or, where none does, those that are not good. */
  readonly of: 'fail' | 'look';
  /** Those that stand out, most first. */
  readonly parts: readonly Driver[];
}

/** Standard deviation of a draw that is uniform over 0 … 1. */
const drawSigma = 1 / Math.sqrt(12);

/** Standard errors of a mean below which a shift is taken for chance: with a hundred draws one in four boards would show one by chance at 3. */
const chance = 4;

export function driversOf(
  verdicts: readonly FigureVerdicts[],
  { groups }: Draws,
  { numbers }: Sample,
  seed: number,
): Drivers {
  const of = verdicts.some(({ levels }) => levels.includes(2)) ? 'fail' : 'look';
  const least = of === 'fail' ? 2 : 1;
  const missed = verdicts.flatMap((each) => {
    const missing = [...each.levels.keys()].filter((n) => each.levels[n]! >= least);
    const isHigh = (n: number): boolean => each.values[n]! > 0;
    return (['low', 'high'] as const).map((figureIs) => ({
      figure: each.figure,
      figureIs,
      boards: missing.filter((n) => figureIs === endOf(each, isHigh(n))),
    }));
  });
  const misses = missed.reduce((sum, { boards }) => sum + boards.length, 0);
  const parts = groups.map(({ refs, parameter, stream }): Driver | null => {
    const draws = new Float64Array(numbers.length);
    for (let n = 0; n < draws.length; n++) draws[n] = uniform(seed, stream, numbers[n]!);
    const shifts = missed.flatMap(({ boards, ...where }) => {
      const mean = boards.reduce((sum, n) => sum + draws[n]!, 0) / boards.length;
      const shift = (mean - 0.5) / drawSigma;
      return Math.abs(shift) * Math.sqrt(boards.length) > chance ? [{ ...where, shift, boards: boards.length }] : [];
    });
    const weight = ({ shift, boards }: (typeof shifts)[number]): number => Math.abs(shift) * boards;
    const [most] = shifts.toSorted((a, b) => weight(b) - weight(a));
    if (most === undefined) return null;
    return {
      ref: refs[0]!,
      alike: refs.slice(1),
      parameter,
      sigmas: shifts.reduce((sum, each) => sum + weight(each), 0) / misses,
      what: most.figure.what,
      channel: most.figure.channel,
      figureIs: most.figureIs,
      partIs: most.shift < 0 ? 'low' : 'high',
    };
  });
  return { of, parts: parts.filter((part) => part !== null).toSorted((a, b) => b.sigmas - a.sigmas) };
}

/** Which end of its limit a missing board has passed: a two-sided figure by its sign, the others have one end only. */
function endOf({ figure }: FigureVerdicts, isHigh: boolean): 'low' | 'high' {
  if (figure.side === 'within') return isHigh ? 'high' : 'low';
  return figure.side === 'at least' ? 'low' : 'high';
}
