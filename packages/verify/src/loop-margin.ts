import type { Board, Outcome } from '@curvewright/board';
import { logFrequencies } from '@curvewright/curves';
import { returnRatio, withLoopLink, type ReturnRatio } from '@curvewright/network';
import { solveStage, type Stage } from './stage.ts';

/** The return ratio of one channel's feedback loop, where the board says to look into it. */
export interface LoopMargin {
  readonly channel: string | null;
  /** `Q103.base`. */
  readonly lead: string;
  /** The highest return ratio, dB. */
  readonly highestDb: number;
  /**
   * Where its magnitude is 1 and it comes nearest to −1, and the angle by which it misses that, negative on an unstable stage; null where its
   * magnitude is nowhere 1. As an angle, not as a count of turns: with the part dead the rest may be unstable by itself.
   */
  readonly unityHz: number | null;
  readonly marginDeg: number | null;
  /**
   * Where it is real and negative and its magnitude nearest to 1, and the dB it has to rise there to be −1, below 0 where it would have to
   * fall; null where it is nowhere negative.
   */
  readonly gainMarginHz: number | null;
  readonly gainMarginDb: number | null;
}

const [lowestHz, highestHz] = [0.05, 2e9];
const perDecade = 20;

/** A break point whose part is not on the board in this state has no margin and is left out. */
export function loopMargins(stage: Stage, loops: Board['loops'], stable: boolean): Outcome<readonly LoopMargin[]> {
  const margins: LoopMargin[] = [];
  for (const { channel, ref, lead } of loops) {
    const circuit = withLoopLink(stage.circuit, { ref, lead });
    if (circuit === null) continue;
    const linked = solveStage(circuit, stage.source);
    if (!linked.ok) return linked;
    const ratio = returnRatio(linked.value.network, linked.value.point, { ref, lead });
    margins.push({ channel, lead: `${ref}.${lead}`, ...marginsOf(ratio, stable) });
  }
  return { ok: true, value: margins };
}

interface Sample {
  readonly hz: number;
  readonly re: number;
  readonly im: number;
  readonly db: number;
}

/** The margins of a return ratio, searched from 0.05 Hz to 2 GHz. */
export function marginsOf(ratio: ReturnRatio, stable: boolean): Omit<LoopMargin, 'channel' | 'lead'> {
  const read = (hz: number): Sample => {
    const [re, im] = ratio(hz) ?? [NaN, NaN];
    return { hz, re, im, db: 20 * Math.log10(Math.hypot(re, im)) };
  };
  const samples = [...logFrequencies(lowestHz, highestHz, perDecade)].map(read);
  const crossings = (side: (sample: Sample) => boolean): readonly Sample[] =>
    samples.slice(1).flatMap((above, n) => {
      const below = samples[n]!;
      return side(below) === side(above) ? [] : [crossingBetween(below, above, side, read)];
    });
  const unity = nearest(
    crossings(({ db }) => db >= 0),
    missedDeg,
  );
  const negative = crossings(({ im }) => im >= 0).filter(({ re }) => re < 0);
  const real = nearest(negative, ({ db }) => Math.abs(db));
  return {
    highestDb: Math.max(...samples.map(({ db }) => db)),
    unityHz: unity?.hz ?? null,
    marginDeg: unity === null ? null : stable ? missedDeg(unity) : -missedDeg(unity),
    gainMarginHz: real?.hz ?? null,
    gainMarginDb: real === null ? null : -real.db,
  };
}

/** The angle between a return ratio and −1. */
function missedDeg({ re, im }: Sample): number {
  return 180 - Math.abs((Math.atan2(im, re) * 180) / Math.PI);
}

function nearest(samples: readonly Sample[], distance: (sample: Sample) => number): Sample | null {
  return samples.toSorted((a, b) => distance(a) - distance(b))[0] ?? null;
}

/** Bisection until the frequencies agree to 1e-9. */
function crossingBetween(
  below: Sample,
  above: Sample,
  side: (sample: Sample) => boolean,
  read: (hz: number) => Sample,
): Sample {
  const start = side(below);
  let [low, high] = [below, above];
  while (high.hz / low.hz - 1 > 1e-9) {
    const middle = read(Math.sqrt(low.hz * high.hz));
    if (side(middle) === start) low = middle;
    else high = middle;
  }
  return low;
}
