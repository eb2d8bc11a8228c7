import type { PartBias } from '@curvewright/verify';
import { quantity } from '../numbers.ts';
import type { CaptionLine } from './captions.ts';
import type { StageDrawingOptions } from './options.ts';
import type { Piece } from './piece.ts';
import type { Turn } from './scene.ts';
import { shareText } from './shading.ts';

/** What stands beside a part: its designator, its value, its current where it is asked for, and its share. */
export function captionLines(
  piece: Piece,
  turn: Turn,
  { currents, shares }: StageDrawingOptions,
): readonly CaptionLine[] {
  const bias = currents?.find(({ ref }) => ref === piece.ref);
  const current = bias === undefined || piece.kind.endsWith('capacitor') ? null : currentText(bias, turn);
  const share = shares?.parts.find(({ ref }) => ref === piece.ref)?.share;
  return [
    { text: piece.ref, what: 'ref' },
    { text: piece.value, what: 'value' },
    ...(current === null ? [] : [{ text: current, what: 'current' } as const]),
    ...(share === undefined ? [] : [{ text: shareText(share), what: 'share' } as const]),
  ];
}

/** An arrow says which way the current flows through a part with two leads; others name the lead it flows into. */
function currentText(bias: PartBias, turn: Turn): string | null {
  if ('icA' in bias) return `IC ${milliamps(bias.icA)}`;
  if ('idA' in bias) return `ID ${milliamps(bias.idA)}`;
  if ('iaA' in bias) return `Ia ${milliamps(bias.iaA)}`;
  if (!('amps' in bias)) return null;
  if (Math.abs(bias.amps) < least) return quantity(0, 'A');
  const arrow = arrows[(turn.quarters + (bias.amps < 0 ? 2 : 0)) % 4] ?? '';
  return `${arrow} ${milliamps(Math.abs(bias.amps))}`;
}

const arrows = ['→', '↓', '←', '↑'];

/** Less than this is what leaks, and is written as none. */
const least = 1e-12;

function milliamps(amps: number): string {
  return quantity(Math.abs(amps) < least ? 0 : amps, 'A');
}
