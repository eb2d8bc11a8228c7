import type { FaultKind, Heard as Word } from '@curvewright/board';
import type { Catalogue } from './catalogue.ts';
import { fittedPrediction } from './fitted.ts';
import type { Hypothesis } from './hypothesis.ts';
import type { Believed, OtherEvidence } from './posterior.ts';
import type { Prediction } from './predict.ts';

/** A word from the closed list; the channel's number, null where none stands out. */
export interface Heard {
  readonly what: Word;
  readonly channel: number | null;
}

/** Kinds of fault that come and go, or crackle: common practice, no source. */
const popping: readonly FaultKind[] = [
  'leaky',
  'leaky_transistor',
  'noisy',
  'contact',
  'open_joint',
  'junction_open',
  'cracked_track',
  'wiper_open',
];

/** What each word stands for where it can be computed: dB against the healthy board, V as a part of the largest rail. Common practice, no source. */
const effect = { thin: -2, dull: -1.5, weak: -3, silent: -20, hiss: 2, hum: 6, bias: 0.2, control: 0.02 };

/** Usual share of words that are heard though nothing computed speaks for them. */
export const usualMisheard = 0.1;

/**
 * ln of what the words add: nothing for a hypothesis that does what is heard, ln(misheard) for one that does not, for each word. Effects are computed at each
 * hypothesis' fitted value; what pops is told by its kind alone.
 */
export function heardEvidence(
  catalogue: Catalogue,
  fits: readonly Pick<Believed, 'best' | 'entry'>[],
  heard: readonly Heard[],
  misheard: number,
): OtherEvidence {
  const miss = Math.log(misheard);
  return {
    healthy: heard.length * miss,
    entries: fits.map(({ best, entry }) => {
      const { hypothesis } = entry;
      const channels = channelsOf(catalogue, hypothesis);
      const prediction = fittedPrediction(entry, best);
      return heard.reduce(
        (sum, word) => sum + (isHeard(catalogue, hypothesis, channels, prediction, word) ? 0 : miss),
        0,
      );
    }),
  };
}

/** The channels whose parts are at fault; all of them for a shared part. */
function channelsOf({ circuit }: Catalogue, { refs }: Hypothesis): readonly number[] {
  const names = circuit.parts.filter(({ ref }) => refs.includes(ref)).map(({ channel }) => channel);
  return circuit.channels.flatMap(({ name }, c) =>
    names.length === 0 || names.includes(null) || names.includes(name) ? [c] : [],
  );
}

function isHeard(
  catalogue: Catalogue,
  hypothesis: Hypothesis,
  channels: readonly number[],
  prediction: Prediction,
  { what, channel }: Heard,
): boolean {
  const asked = channel === null ? catalogue.circuit.channels.map((_, c) => c) : [channel];
  return asked.some((c) => {
    const level = (hz: number): number =>
      moved(catalogue, prediction, (spot) => spot.kind === 'gain' && spot.channel === c && spot.hz === hz);
    switch (what) {
      case 'popping':
        return channels.includes(c) && popping.includes(hypothesis.kind);
      case 'motorboating':
        return channels.length === catalogue.circuit.channels.length && isSupply(catalogue, hypothesis);
      case 'thin':
        return level(50) - level(1000) <= effect.thin || level(20) - level(1000) <= 2 * effect.thin;
      case 'dull':
        return level(10_000) - level(1000) <= effect.dull;
      case 'weak':
        return level(1000) <= effect.weak;
      case 'no sound':
        return level(1000) <= effect.silent;
      case 'hiss':
        return moved(catalogue, prediction, (spot) => spot.kind === 'hiss' && spot.channel === c) >= effect.hiss;
      case 'hum':
        return moved(catalogue, prediction, (spot) => spot.kind === 'hum' && spot.channel === c) >= effect.hum;
      case 'distorted':
        return biasMoved(catalogue, prediction, c) >= effect.bias;
      case 'scratchy control':
        return (
          hypothesis.kind === 'wiper_open' ||
          hypothesis.kind === 'contact' ||
          outputVolts(catalogue, prediction, c) >= effect.control
        );
    }
  });
}

/** A capacitor that decouples what the channels share, or a supply: what makes stages feed one another through it. */
function isSupply({ circuit }: Catalogue, { refs, kind }: Hypothesis): boolean {
  if (kind === 'supply') return true;
  return circuit.parts.some(
    (part) =>
      part.kind === 'capacitor' &&
      part.channel === null &&
      refs.includes(part.ref) &&
      ['open', 'dried', 'contact'].includes(kind),
  );
}

/** Prediction less the healthy one, at the one spot asked for; 0 where there is none. */
function moved(
  { spots, healthy }: Catalogue,
  { mean }: Prediction,
  asked: (spot: Catalogue['spots'][number]) => boolean,
): number {
  const s = spots.findIndex(asked);
  return s < 0 ? 0 : mean[s]! - healthy.mean[s]!;
}

/** Largest move of a voltage of the channel over the largest rail. */
function biasMoved({ circuit, spots, healthy }: Catalogue, { mean }: Prediction, channel: number): number {
  const largest = Math.max(...circuit.rails.map(({ volts }) => Math.abs(volts)), 1e-3);
  const name = circuit.channels[channel]!.name;
  return spots.reduce(
    (most, spot, s) =>
      spot.kind === 'volts' && spot.nodes[0].endsWith(`@${name}`)
        ? Math.max(most, Math.abs(mean[s]! - healthy.mean[s]!) / largest)
        : most,
    0,
  );
}

/** V of DC at the channel's output. */
function outputVolts({ circuit, spots }: Catalogue, { mean }: Prediction, channel: number): number {
  const s = spots.findIndex(
    (spot) => spot.kind === 'volts' && spot.nodes[0] === circuit.channels[channel]!.output && spot.nodes[1] === 'gnd',
  );
  return s < 0 ? 0 : Math.abs(mean[s]!);
}
