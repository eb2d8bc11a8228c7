import { coincidences } from './coincidence.ts';
import { countBounds } from './counting.ts';
import type { Hit, HitKind } from './hits.ts';
import type { LevelDrift } from './level-drift.ts';
import type { Pops } from './pop-detector.ts';

/** What pops a recording of silence has, in the names that are printed as JSON. */
export interface PopsAnswer {
  /** V rms of a sine that is full scale to the recorder; null where it is not stated. */
  readonly recorderV: number | null;
  readonly channels: readonly ChannelPops[];
  /** Of two channels: hits at the same time, and how many would be by chance. */
  readonly together: { readonly count: number; readonly byChance: number } | null;
}

export interface ChannelPops {
  readonly name: string;
  /** dB at 1 kHz, by which heights are referred to the input; null where it is not known. */
  readonly gainDb: number | null;
  readonly minutes: number;
  /** Hits; a burst is one. */
  readonly count: number;
  /** Clicks and steps, those in bursts too. */
  readonly clicks: number;
  readonly ratePerMin: number;
  /** The rate lies above the lower one in 95 of 100 cases, and below the upper one in 95 of 100. */
  readonly rateLowPerMin: number;
  readonly rateHighPerMin: number;
  /** Heights of which 98 in 100 are found; see `height` of a hit. */
  readonly least: Readonly<Record<'click' | 'step', { readonly uv: number | null; readonly share: number } | null>>;
  readonly hits: readonly PopHit[];
  /** As shares of full scale. */
  readonly drift: LevelDrift | null;
  /** Samples at full scale: pops among them are higher than told. */
  readonly clipped: number;
}

export interface PopHit {
  readonly s: number;
  /** µV at the board's input that make the height at 1 kHz, with its sign; null where full scale or gain is not known. */
  readonly uv: number | null;
  /** Share of full scale, with its sign. */
  readonly share: number;
  readonly kind: HitKind;
  /** In both channels at the same time. */
  readonly both: boolean;
  readonly clicks: number;
  readonly lastsS: number;
}

/** What the shares of full scale stand for. */
export interface Calibration {
  readonly recorderV: number | null;
  /** dB at 1 kHz of each channel; null where it is not known. */
  readonly gainDb: readonly (number | null)[];
}

/** `found`: what each channel has; `names`: of the channels. */
export function popsAnswer(
  found: readonly Pops[],
  names: readonly string[],
  { recorderV, gainDb }: Calibration,
): PopsAnswer {
  const [left, right] = found;
  const pair = found.length === 2 && left && right ? coincidences(left, right) : null;
  return {
    recorderV,
    channels: found.map((pops, c): ChannelPops => {
      const gain = gainDb[c] ?? null;
      const uvOf = (share: number): number | null =>
        recorderV === null || gain === null ? null : (1e6 * share * Math.SQRT2 * recorderV) / 10 ** (gain / 20);
      const leastOf = (share: number | null): ChannelPops['least']['click'] =>
        share === null ? null : { uv: uvOf(share), share };
      const both = pair?.both[c];
      const hits = pops.hits.map((hit, n) => hitOf(hit, uvOf(hit.height), both?.has(n) ?? false));
      return {
        ...{ name: names[c] ?? `channel ${c + 1}`, gainDb: gain, minutes: pops.seconds / 60 },
        ...{ count: hits.length, clicks: hits.reduce((sum, { clicks }) => sum + clicks, 0) },
        ...ratesOf(hits.length, pops.seconds / 60),
        least: { click: leastOf(pops.least.click), step: leastOf(pops.least.step) },
        ...{ hits, drift: pops.drift, clipped: pops.clipped },
      };
    }),
    together: pair === null ? null : { count: pair.both[0].size, byChance: pair.byChance },
  };
}

function hitOf({ at, height, kind, clicks, lasts }: Hit, uv: number | null, both: boolean): PopHit {
  return { s: at, uv, share: height, kind, both, clicks, lastsS: lasts };
}

function ratesOf(count: number, minutes: number): Pick<ChannelPops, 'ratePerMin' | 'rateLowPerMin' | 'rateHighPerMin'> {
  const { low, high } = countBounds(count);
  return { ratePerMin: count / minutes, rateLowPerMin: low / minutes, rateHighPerMin: high / minutes };
}
