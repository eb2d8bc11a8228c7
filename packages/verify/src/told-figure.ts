import type { Figure, Probe } from './figure.ts';
import type { FigureName, Judged } from './judge.ts';
import { designatorsIn } from './designator.ts';

/** A figure of the answers beyond bias and curve, with what these answers tell of it. */
export interface ToldFigure extends Figure {
  /** Too dear to be read off a variation of every part: its own answer names the parts that move it. */
  readonly dear: boolean;
  /** Of a dear figure: whether it is read with each swap of a job undone. */
  readonly triesSwaps: boolean;
  /** Designators that the answer names, the one that moves it most first; may be empty where the figure is not dear. */
  readonly named: readonly string[];
  /** Designators whose values may mend a dear figure. */
  readonly asked: readonly string[];
  /** Whether a varied stage can be told, without reading the figure, to have it at the same level. */
  readonly stays?: (probe: Probe) => boolean;
  readonly cause: string;
  /** What to do where no value mends it. */
  readonly otherwise: string;
}

type Told = Pick<ToldFigure, 'where' | 'named' | 'asked' | 'cause' | 'otherwise'> &
  Partial<Pick<ToldFigure, 'hz' | 'stays'>>;

export interface Kind {
  readonly what: FigureName;
  readonly unit: Judged['unit'];
  readonly side: Judged['side'];
  readonly dear: boolean;
  readonly triesSwaps?: boolean;
  /** From the limit's SI unit to the figure's. */
  readonly scale?: number;
}

/** `read` gives NaN where a varied stage has no such figure, which is never good. */
export function toldFigure(
  { what, unit, side, dear, triesSwaps = false, scale = 1 }: Kind,
  channel: number | null,
  limit: { readonly good: number; readonly look: number },
  probe: Probe,
  read: (probe: Probe) => number,
  told: Told,
): ToldFigure {
  const { named, asked, ...rest } = told;
  return {
    ...{ what, channel, unit, side, dear, triesSwaps, hz: null, value: read(probe) },
    ...{ good: limit.good * scale, look: limit.look * scale, search: read, follow: read },
    ...{ named: designatorsIn(probe.stage, named, channel), asked: designatorsIn(probe.stage, asked, channel) },
    ...rest,
  };
}
