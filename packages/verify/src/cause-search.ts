import type { Part } from '@curvewright/board';
import { remedySentence, valueWords, type Scene } from './cause-words.ts';
import { designatorOf } from './designator.ts';
import type { Figure } from './figure.ts';
import { fitWords } from './fit-words.ts';
import { effectsOfSwaps, type Effect } from './influence-on-figure.ts';
import { levelOf, marginTo } from './judge.ts';
import { hasValues, type Remedy, type RemedyContext } from './remedy.ts';

export interface CauseContext extends RemedyContext, Scene {
  /** Whether to look for a value that mends the figure: on the state the verdict rests on. */
  readonly seekRemedy: boolean;
  /** Remedies offered for figures before this one: one piece of work that mends two figures is better than two. */
  readonly offers: Remedy[];
}

/** Swaps named in a sentence. */
export const named = 3;

/** The swaps worth a sentence: of a figure that is not good those that harm it. */
export function tellingSwaps(figure: Figure, { probe, changes, variants }: CauseContext): readonly Effect[] {
  const positions = changes.map(({ position }) => position);
  const seen = effectsOfSwaps(figure, probe, positions, variants).filter(({ moves }) => isSeen(figure, moves));
  const telling = levelOf(figure) === 'good' ? seen : seen.filter(({ moves }) => isHarm(figure, moves));
  // Those that move at least a fifth of what the first moves.
  return telling.filter(({ moves }) => Math.abs(moves) >= Math.abs(telling[0]?.moves ?? 0) / 5).slice(0, named);
}

/** Moves under a twentieth of the good limit, or of the way from good to look, are not worth a sentence. */
export function isSeen({ good, look }: Figure, moves: number): boolean {
  return Math.abs(moves) >= Math.min(Math.abs(good), Math.abs(look - good) || Infinity) / 20;
}

function isHarm(figure: Figure, moves: number): boolean {
  return marginTo(figure, figure.good, figure.value - moves) > marginTo(figure, figure.good);
}

/** The first parts with values that these designators and positions name. */
export function partsOf(
  { probe }: CauseContext,
  names: readonly { readonly ref: string }[],
  most: number,
): readonly Part[] {
  const { parts } = probe.stage.circuit;
  const found = names.flatMap(({ ref }) => parts.filter((part) => part.ref === ref || part.position === ref));
  return [...new Set(found.filter(hasValues))].slice(0, most);
}

interface Remedies {
  readonly found: Remedy | null;
  readonly asked: readonly Part[];
}

/** Asks one group of parts after the other, where a figure of the state that counts is not good. */
export function askFor(
  figure: Figure,
  context: CauseContext,
  groups: readonly (readonly Part[])[],
  ask: (parts: readonly Part[], figure: Figure, context: RemedyContext) => Remedy | null,
): Remedies {
  if (levelOf(figure) === 'good' || !context.seekRemedy) return { found: null, asked: [] };
  const name = figure.channel === null ? null : context.probe.stage.circuit.channels[figure.channel]!.name;
  const again = context.offers.find(
    ({ part, probe }) =>
      (name === null || part.channel === null || part.channel === name) &&
      levelOf(figure, figure.search(probe)) === 'good',
  );
  if (again !== undefined) return { found: { ...again, leaves: figure.search(again.probe) }, asked: [] };
  for (const parts of groups) {
    const found = ask(parts, figure, context);
    if (found === null) continue;
    context.offers.push(found);
    return { found, asked: parts };
  }
  return { found: null, asked: groups.flat() };
}

export function nameOf({ probe }: CauseContext, ref: string): string {
  const part = probe.stage.circuit.parts.find((each) => each.ref === ref);
  return part === undefined ? ref : designatorOf(part);
}

export function sentenceOn({ probe }: CauseContext, { ref }: Effect, say: (part: Part) => string): readonly string[] {
  const part = probe.stage.circuit.parts.find((each) => each.ref === ref);
  return part === undefined ? [] : [say(part)];
}

export function remedySentences(figure: Figure, remedy: Remedy | null): readonly string[] {
  return remedy === null ? [] : [remedySentence(figure, remedy)];
}

export function nextStep(figure: Figure, context: CauseContext, ref: string, remedies: Remedies, look: string): string {
  if (levelOf(figure) === 'good') return 'no change needed';
  if (remedies.found !== null) return `fit ${fitWords(remedies.found, context.further)}`;
  if (!context.seekRemedy) return `replace ${ref}, or see what the rebuilt state makes of it`;
  const undone = context.changes.some(({ position }) => position === ref) ? context.variants.restored(ref) : null;
  const leaves = undone === null ? NaN : figure.search(undone);
  if (levelOf(figure, leaves) === 'good') return `put ${ref} back as drawn: that leaves ${valueWords(figure, leaves)}`;
  if (remedies.asked.length === 0) return look;
  return `${look}: no other preferred value of ${listed(remedies.asked.map((part) => part.ref))} alone mends it`;
}

function listed(refs: readonly string[]): string {
  return refs.length < 2 ? refs.join('') : `${refs.slice(0, -1).join(', ')} or ${refs.at(-1)!}`;
}
