import { powerDensity } from '../spectrum/welch.ts';

/** A line of the mains in a silence. */
export interface HumLine {
  /** As it was found: the mains and the recorder's clock are both a little off. */
  readonly hz: number;
  /** 50 or 60, and which multiple. */
  readonly mains: 50 | 60;
  readonly multiple: number;
  /** Mean square re full scale ±1. */
  readonly power: number;
}

/** Share by which a line may be off its frequency: mains ±0.5 % (EN 50160 allows 1 % for 0.5 % of the year; from memory). */
const offShare = 0.006;
/** Multiples of the mains' frequency that are looked for. */
const multiples = 12;
/** Power of a line over that of as many bins beside it from which on it counts, 10 dB. */
const standsOut = 10;
/** Bins over which the Hann window spreads a line. */
const skirt = 2;

/** Lines at 50 and 60 Hz and their multiples; a stretch under about two seconds cannot tell them from noise. */
export function humLines(samples: Float64Array, rate: number): readonly HumLine[] {
  const size = 2 ** Math.floor(Math.log2(Math.min(samples.length, 4 * rate)));
  const density = size < 1.3 * rate ? null : powerDensity(samples, rate, size);
  if (density === null) return [];
  const { perHz, stepHz } = density;
  const sumOver = (from: number, to: number): number => {
    let sum = 0;
    for (let k = from; k <= to; k++) sum += perHz[k]!;
    return sum;
  };
  return ([50, 60] as const)
    .flatMap((mains) =>
      Array.from({ length: multiples }, (_, n) => n + 1).flatMap((multiple): HumLine[] => {
        const nominal = mains * multiple;
        if (nominal > 0.4 * rate) return [];
        const reach = Math.ceil((nominal * offShare) / stepHz) + 1;
        const middle = Math.round(nominal / stepHz);
        let peak = middle - reach;
        for (let k = middle - reach; k <= middle + reach; k++) if (perHz[k]! > perHz[peak]!) peak = k;
        const own = sumOver(peak - skirt, peak + skirt);
        const beside = (sumOver(peak - 4 * skirt, peak - 2 * skirt) + sumOver(peak + 2 * skirt, peak + 4 * skirt)) / 2;
        if (own < standsOut * beside) return [];
        const [left, here, right] = [perHz[peak - 1]!, perHz[peak]!, perHz[peak + 1]!].map(Math.log);
        const shift = (left! - right!) / (2 * (left! - 2 * here! + right!));
        return [{ hz: (peak + shift) * stepHz, mains, multiple, power: (own - beside) * stepHz }];
      }),
    )
    .filter((line, _, lines) => ownLine(line, lines));
}

/** A common multiple (300 Hz, 600 Hz) goes to the mains that shows more of its other multiples. */
function ownLine({ mains, multiple }: HumLine, lines: readonly HumLine[]): boolean {
  const hz = mains * multiple;
  const strength = (of: 50 | 60): number =>
    lines.filter((line) => line.mains === of && (of * line.multiple) % 300 !== 0).length;
  if (hz % 300 !== 0 || !lines.some((line) => line.mains !== mains && line.mains * line.multiple === hz)) return true;
  return mains === 50 ? strength(50) >= strength(60) : strength(60) > strength(50);
}
