import type { Change, Part } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import { cornerOf } from './capacitor-corner.ts';
import { designatorOf, isOfFault } from './designator.ts';
import type { Figure, Probe } from './figure.ts';
import { placesOf } from './fit-words.ts';
import type { Effect } from './influence-on-figure.ts';
import type { FigureName } from './judge.ts';
import { mainValue, printValue, valueText } from './part-value.ts';
import type { Remedy } from './remedy.ts';
import type { Variants } from './variants.ts';

/** What the sentences of a cause are made from. */
export interface Scene {
  readonly probe: Probe;
  readonly drawn: Probe | null;
  /** What this state has that the drawing has not. */
  readonly changes: readonly Change[];
  readonly variants: Variants;
}

export function swapSentence(figure: Figure, scene: Scene, { ref, moves }: Effect): string {
  return `${ref} (${swapText(figure, scene, ref)}) moves it by ${movesWords(moves, figure)}`;
}

/** `8.2 µF for 22 µF` where the value is what differs and can be what matters, else all that differs: a capacitor's leakage moves a bias, its value does not. */
function swapText(figure: Figure, { probe, drawn, changes }: Scene, position: string): string {
  const description = shortened(changes.find((change) => change.position === position)?.description ?? '');
  const parts = probe.stage.circuit.parts.filter((part) => part.position === position);
  if (parts.some(isOfFault)) return description;
  if (figure.hz === null && parts.some(({ kind }) => kind === 'capacitor')) return description;
  const standing = (from: Probe | null): readonly string[] =>
    (from?.stage.circuit.parts ?? []).filter((part) => part.position === position).map(valueText);
  const [now, before] = [standing(probe).join(' + '), standing(drawn).join(' + ')];
  if (now !== '' && before !== '' && now !== before) return `${now} for ${before}`;
  return description;
}

/** `open circuit` of `220 µF aluminium, open circuit instead of 220 µF aluminium`. */
function shortened(description: string): string {
  const [now = '', before] = description.split(' instead of ');
  return before !== undefined && now.startsWith(`${before}, `) ? now.slice(before.length + 2) : description;
}

/** For a figure that a swap may take to infinity, where a difference says nothing. */
export function undoneSentence(figure: Figure, scene: Scene, { ref, leaves }: { ref: string; leaves: number }): string {
  return `${ref} (${swapText(figure, scene, ref)}): as drawn it leaves ${valueWords(figure, leaves)}`;
}

/** Levels of a channel's curve, which a coupling capacitor takes down. */
const levels: readonly FigureName[] = ['deviation', 'bass', 'treble', 'gain'];

export function cornerSentence(figure: Figure, { probe, variants }: Scene, part: Part): string | null {
  if (part.kind !== 'capacitor' || !levels.includes(figure.what)) return null;
  const corner = cornerOf(probe.stage, part);
  const large = variants.withValue(part.ref, part.farads * 1000);
  const costs = large === null ? 0 : figure.follow(large) - figure.value;
  if (corner === null || costs < 0.1) return null;
  const around = `equals the ${printQuantity(corner.ohms, 'Ω')} around it at ${printQuantity(corner.hz, 'Hz')}`;
  return `${nameAndValue(part)} ${around} and costs ${costs.toFixed(1)} dB ${figure.where}`;
}

export function leadingSentence(figure: Figure, part: Part, effect: Effect): string {
  const what = mainValue(part) === null ? 'a tenth more hFE' : 'a tenth more';
  return `${nameAndValue(part)} matters most: ${what} moves it by ${movesWords(effect.moves, figure)}`;
}

/** For a figure of what the channels share, where parts are large or small by factors and not by tenths; `among` which it matters most. */
export function doubledSentence(
  figure: Figure,
  { variants }: Scene,
  part: Part,
  effect: Effect,
  among: string,
): string {
  const value = mainValue(part);
  const doubled = value === null ? null : variants.withValue(part.ref, 2 * value);
  if (doubled === null) return leadingSentence(figure, part, effect);
  const moves = figure.follow(doubled) - figure.value;
  return `${nameAndValue(part)} matters most${among}: twice as much moves it by ${movesWords(moves, figure)}`;
}

function nameAndValue(part: Part): string {
  const lead = designatorOf(part) === part.ref ? '' : ` (${part.ref.slice(part.position.length + 1)})`;
  return `${designatorOf(part)}${lead}: ${valueText(part)}`;
}

export function remedySentence(figure: Figure, remedy: Remedy): string {
  return `${printValue(remedy.part, remedy.value)} at ${placesOf(remedy)} leaves ${valueWords(figure, remedy.leaves)}`;
}

/** With the decimals of a page. */
export function valueWords(figure: Pick<Figure, 'what' | 'unit'>, value: number): string {
  const number = Math.abs(value).toFixed(figure.what === 'distortion' ? 3 : decimals[figure.unit]);
  const sign = magnitudes.includes(figure.what) ? '' : value < 0 ? '−' : '+';
  return figure.unit === 'Q' ? `Q ${number}` : `${sign}${number} ${figure.unit}`;
}

/** Figures that are magnitudes: a sign would read as a change. */
const magnitudes: readonly FigureName[] = ['crosstalk', 'hiss', 'overload', 'distortion', 'stability', 'settle'];

const decimals: Readonly<Record<Figure['unit'], number>> = { dB: 2, '%': 1, mV: 1, µV: 2, s: 1, Q: 2, '°': 0 };

/** How far a figure moves: with the decimals of its unit, or with one digit that counts where those would all be zeros. */
function movesWords(moves: number, { unit }: Figure): string {
  const magnitude = Math.abs(moves);
  const digits = magnitude.toFixed(decimals[unit]);
  return `${moves < 0 ? '−' : '+'}${Number(digits) > 0 ? digits : String(Number(magnitude.toPrecision(1)))} ${unit}`;
}
