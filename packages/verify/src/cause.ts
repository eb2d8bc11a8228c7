import type { Change, Part } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import { cornerOf } from './capacitor-corner.ts';
import type { Figure, Probe } from './figure.ts';
import {
  effectsOfCouplings,
  effectsOfParts,
  effectsOfSwaps,
  partsActingOn,
  type Effect,
} from './influence-on-figure.ts';
import { levelOf, marginTo } from './judge.ts';
import { bestRemedy, type Remedy, type RemedyContext } from './remedy.ts';
import { mainValue, printValue, twinsOf, valueText } from './part-value.ts';

/** Why a figure stands where it stands, found by solving the stage again with one thing changed at a time. */
export interface Cause {
  readonly ref: string;
  readonly cause: string;
  readonly next: string;
}

export interface CauseContext extends RemedyContext {
  readonly probe: Probe;
  /** What this state has that the drawing has not. */
  readonly changes: readonly Change[];
  /** Whether to look for a value that mends the figure: on the state the verdict rests on. */
  readonly seekRemedy: boolean;
}

/** Parts asked for a remedy, and swaps named in a sentence. */
const named = 3;

export function causeOf(figure: Figure, context: CauseContext): Cause {
  const { probe, changes, variants } = context;
  const positions = changes.map(({ position }) => position);
  const swaps = effectsOfSwaps(figure, probe, positions, variants).filter(({ moves }) => isSeen(figure, moves));
  const good = levelOf(figure) === 'good';
  const told = leadingOnes(good ? swaps : swaps.filter(({ moves }) => isHarm(figure, moves)));
  const couplings = effectsOfCouplings(figure, probe, variants).filter(({ moves }) => isSeen(figure, moves));
  const ranked = couplings.length > 0 ? couplings : effectsOfParts(figure, probe, variants);
  const remedy = good || !context.seekRemedy ? null : findRemedy(figure, context, [...told, ...ranked]);

  const leading = ranked.find(({ ref }) => ref === remedy?.part.ref) ?? ranked[0];
  const sentences = [
    ...told.map((swap) => swapSentence(figure, context, swap)),
    ...(leading && (told.length === 0 || remedy?.part.ref === leading.ref)
      ? [partSentence(figure, context, leading)]
      : []),
    ...(remedy ? [remedySentence(figure, context, remedy)] : []),
  ];
  const ref = told[0]?.ref ?? leading?.ref ?? partsActingOn(figure, probe)[0]?.ref ?? '';
  return {
    ref,
    cause: sentences.join('; ') || 'no part of this channel moves it',
    next: nextStep(figure, context, ref, remedy),
  };
}

/** Moves under a twentieth of the good limit are not worth a sentence. */
function isSeen(figure: Figure, moves: number): boolean {
  return Math.abs(moves) >= Math.abs(figure.good) / 20;
}

/** Those that move at least a fifth of what the first moves. */
function leadingOnes(effects: readonly Effect[]): readonly Effect[] {
  return effects.filter(({ moves }) => Math.abs(moves) >= Math.abs(effects[0]?.moves ?? 0) / 5).slice(0, named);
}

function isHarm(figure: Figure, moves: number): boolean {
  return marginTo(figure, figure.good, figure.value - moves) > marginTo(figure, figure.good);
}

/** Asks the parts of harmful swaps and the leading parts of the ranking. */
function findRemedy(figure: Figure, context: CauseContext, effects: readonly Effect[]): Remedy | null {
  const { parts } = context.probe.stage.circuit;
  const asked = new Set<Part>();
  for (const { ref } of effects) {
    for (const part of parts) if (part.ref === ref || part.position === ref) asked.add(part);
    if (asked.size >= 2 * named) break;
  }
  return bestRemedy([...asked], figure, context);
}

function swapSentence(figure: Figure, context: CauseContext, { ref, moves }: Effect): string {
  return `${ref} (${swapText(figure, context, ref)}) moves it by ${signed(moves, figure)}`;
}

/** `8.2 µF for 22 µF` where the value is what differs and can be what matters, else all that differs: a capacitor's leakage moves a bias, its value does not. */
function swapText(figure: Figure, { probe, drawn, changes }: CauseContext, position: string): string {
  const description = changes.find((change) => change.position === position)?.description ?? '';
  const parts = probe.stage.circuit.parts.filter((part) => part.position === position);
  if (figure.hz === null && parts.some(({ kind }) => kind === 'capacitor')) return description;
  const standing = (from: Probe | null): readonly string[] =>
    (from?.stage.circuit.parts ?? []).filter((part) => part.position === position).map(valueText);
  const [now, before] = [standing(probe).join(' + '), standing(drawn).join(' + ')];
  if (now !== '' && before !== '' && now !== before) return `${now} for ${before}`;
  return description;
}

function partSentence(figure: Figure, context: CauseContext, effect: Effect): string {
  const part = context.probe.stage.circuit.parts.find(({ ref }) => ref === effect.ref);
  if (part === undefined) return '';
  const name = `${part.ref}: ${valueText(part)}`;
  if (part.kind === 'capacitor' && figure.unit === 'dB' && figure.side !== 'at most' && figure.channel !== null) {
    const corner = cornerOf(context.probe.stage, part);
    const large = context.variants.withValue(part.ref, part.farads * 1000);
    const costs = large === null ? 0 : figure.follow(large) - figure.value;
    if (corner !== null && costs >= 0.1) {
      const around = `equals the ${printQuantity(corner.ohms, 'Ω')} around it at ${printQuantity(corner.hz, 'Hz')}`;
      return `${name} ${around} and costs ${costs.toFixed(1)} dB ${figure.where}`;
    }
  }
  const what = mainValue(part) === null ? 'a tenth more hFE' : 'a tenth more';
  return `${name} matters most: ${what} moves it by ${signed(effect.moves, figure)}`;
}

function remedySentence(figure: Figure, context: CauseContext, { part, value, leaves }: Remedy): string {
  return `${printValue(part, value)} at ${withTwins(context, part)} leaves ${signed(leaves, figure)}`;
}

function withTwins({ probe }: CauseContext, part: Part): string {
  return [part, ...twinsOf(probe.stage.circuit, part)].map(({ ref }) => ref).join(' and ');
}

function nextStep(figure: Figure, context: CauseContext, ref: string, remedy: Remedy | null): string {
  if (levelOf(figure) === 'good') return 'no change needed';
  if (remedy) return `fit ${printValue(remedy.part, remedy.value)} at ${withTwins(context, remedy.part)}`;
  if (!context.seekRemedy) return `replace ${ref}, or see what the rebuilt state makes of it`;
  const look = figure.hz === null ? 'measure the voltages at' : 'measure';
  return `${look} ${ref} and its neighbours: no preferred value of one part alone mends it`;
}

/** Two digits behind the point for dB, one for percent and millivolts; one that counts where those would all be zeros. */
function signed(value: number, { unit }: Figure): string {
  const sign = value < 0 ? '−' : '+';
  const magnitude = Math.abs(value);
  const digits = magnitude.toFixed(unit === 'dB' ? 2 : 1);
  return `${sign}${Number(digits) > 0 ? digits : String(Number(magnitude.toPrecision(1)))} ${unit}`;
}
