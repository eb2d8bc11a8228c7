import { noiseAnswer } from '../noise.ts';
import { taught, taughtParts, type LessonBench } from './lesson-bench.ts';

/** Who makes the hiss of the taught channel. */
export interface HissLesson {
  /** µV at the input, A-weighted. */
  readonly inputUv: number;
  /** Of 1, the largest first. */
  readonly makers: readonly HissMaker[];
  /** dB by which the hiss falls with the first maker silent, and with the last of those told. */
  readonly withoutFirstDb: number;
  readonly withoutLastDb: number;
}

export interface HissMaker {
  readonly ref: string;
  readonly kind: 'resistor' | 'capacitor' | 'active' | 'other';
  readonly share: number;
}

/** Makers that are put side by side. */
const most = 5;

/** Null where the files say nothing that makes a noise, or one part alone does. */
export function hissLesson(bench: LessonBench): HissLesson | null {
  const channel = noiseAnswer(bench.stage).channels[taught];
  const kinds = new Map(taughtParts(bench).map(({ ref, kind }) => [ref, kind]));
  const makers = (channel?.shares ?? [])
    .filter(({ ref }) => kinds.has(ref))
    .toSorted((a, b) => b.aWeightedShare - a.aWeightedShare)
    .slice(0, most)
    .map(({ ref, aWeightedShare }): HissMaker => ({ ref, share: aWeightedShare, kind: kindOf(kinds.get(ref)) }));
  const [first, second] = makers;
  const last = makers.at(-1);
  if (channel === undefined || first === undefined || second === undefined || last === undefined) return null;
  return {
    inputUv: channel.inputAWeightedUv,
    makers,
    withoutFirstDb: 10 * Math.log10(1 - first.share),
    withoutLastDb: 10 * Math.log10(1 - last.share),
  };
}

function kindOf(kind: string | undefined): HissMaker['kind'] {
  return kind === 'resistor' || kind === 'capacitor' ? kind : kind === 'typed' ? 'active' : 'other';
}
