import type { Change, Limits, Part } from '@curvewright/board';
import { printQuantity, type Unit } from '@curvewright/quantity';
import { cornerOf } from './capacitor-corner.ts';
import type { Figure, Probe } from './figure.ts';
import { effectsOfParts, effectsOfSwaps, type Effect } from './influence-on-figure.ts';
import { levelOf, marginTo } from './judge.ts';
import { remedyAt, type Remedy } from './remedy.ts';
import { mainValue, type Variants } from './variants.ts';

/** Why a figure stands where it stands, found by solving the stage again with one thing changed at a time. */
export interface Cause {
  readonly ref: string;
  readonly cause: string;
  readonly next: string;
}

export interface CauseContext {
  readonly probe: Probe;
  readonly drawn: Probe | null;
  /** What this state has that the drawing has not. */
  readonly changes: readonly Change[];
  readonly figures: readonly Figure[];
  readonly limits: Limits;
  readonly variants: Variants;
  /** Whether to look for a value that mends the figure: on the state the verdict rests on. */
  readonly seekRemedy: boolean;
}

/** Parts asked for a remedy, and swaps named in a sentence. */
const named = 3;

export function causeOf(figure: Figure, context: CauseContext): Cause {
  const { probe, changes, variants } = context;
  const positions = changes.map(({ position }) => position);
  const swaps = effectsOfSwaps(figure, probe, positions, variants).filter(({ moves }) => isSeen(figure, moves));
  const effects = effectsOfParts(figure, probe, variants);
  const good = levelOf(figure) === 'good';
  const remedy = good || !context.seekRemedy ? null : findRemedy(figure, effects, context);
  const harm = swaps.filter(({ moves }) => marginTo(figure, figure.good, figure.value - moves) > marginTo(figure, figure.good));
  if (harm.length > 0 || (good && swaps.length > 0)) {
    return swapCause(figure, context, good ? swaps : harm, remedy);
  }
  const ref = remedy?.ref ?? effects[0]?.ref ?? probe.stage.circuit.parts[0]?.ref ?? '';
  const part = probe.stage.circuit.parts.find((candidate) => candidate.ref === ref);
  const effect = effects.find((candidate) => candidate.ref === ref);
  return {
    ref,
    cause: partCause(figure, context, part, effect, remedy),
    next: nextStep(figure, context, ref, remedy),
  };
}

/** Moves under a twentieth of the good limit are not worth a sentence. */
function isSeen(figure: Figure, moves: number): boolean {
  return Math.abs(moves) >= Math.abs(figure.good) / 20;
}

function findRemedy(figure: Figure, effects: readonly Effect[], context: CauseContext): Remedy | null {
  const { probe, limits, drawn, figures, variants } = context;
  for (const { ref } of effects.slice(0, named)) {
    const part = probe.stage.circuit.parts.find((candidate) => candidate.ref === ref);
    const remedy = part && remedyAt(part, figure, limits, drawn, figures, variants);
    if (remedy) return remedy;
  }
  return null;
}

function swapCause(figure: Figure, context: CauseContext, swaps: readonly Effect[], remedy: Remedy | null): Cause {
  const sentence = swaps
    .slice(0, named)
    .map(({ ref, moves }) => {
      const description = context.changes.find(({ position }) => position === ref)?.description ?? '';
      return `${ref} (${description}) moves it by ${signed(moves, figure)}`;
    })
    .join('; ');
  const ref = swaps[0]!.ref;
  const leaves = remedy ? `; ${remedySentence(figure, context, remedy)}` : '';
  return { ref, cause: `${sentence}${leaves}`, next: nextStep(figure, context, ref, remedy) };
}

function partCause(
  figure: Figure,
  context: CauseContext,
  part: Part | undefined,
  effect: Effect | undefined,
  remedy: Remedy | null,
): string {
  if (part === undefined || effect === undefined) return 'no part of this channel moves it';
  const leaves = remedy ? `; ${remedySentence(figure, context, remedy)}` : '';
  const name = `${part.ref}: ${valueText(part)}`;
  if (part.kind === 'capacitor') {
    const corner = cornerOf(context.probe.stage, part);
    const large = context.variants.withValue(part.ref, part.farads * 1000);
    const costs = large === null ? 0 : figure.follow(large) - figure.value;
    if (corner !== null && figure.unit === 'dB' && figure.side !== 'at most' && costs >= 0.1) {
      const around = `equals the ${printQuantity(corner.ohms, 'Ω')} around it at ${printQuantity(corner.hz, 'Hz')}`;
      return `${name} ${around} and costs ${printQuantity(costs, 'dB', 2)} ${figure.where}${leaves}`;
    }
  }
  const what = mainValue(part) === null ? 'a tenth more hFE' : 'a tenth more';
  return `${name} matters most: ${what} moves it by ${signed(effect.moves, figure)}${leaves}`;
}

function remedySentence(figure: Figure, context: CauseContext, { ref, value, leaves }: Remedy): string {
  const part = context.probe.stage.circuit.parts.find((candidate) => candidate.ref === ref);
  return `${printQuantity(value, unitOf(part))} at ${ref} leaves ${signed(leaves, figure)}`;
}

function nextStep(figure: Figure, context: CauseContext, ref: string, remedy: Remedy | null): string {
  if (levelOf(figure) === 'good') return 'no change needed';
  if (remedy) {
    const part = context.probe.stage.circuit.parts.find((candidate) => candidate.ref === remedy.ref);
    return `fit ${printQuantity(remedy.value, unitOf(part))} at ${remedy.ref}`;
  }
  if (!context.seekRemedy) return `see what the rebuilt state makes of ${ref}`;
  const look = figure.what === 'node_volts' || figure.what === 'output_dc' ? 'measure the voltages at' : 'measure';
  return `${look} ${ref} and its neighbours: no preferred value of one part alone mends it`;
}

function valueText(part: Part): string {
  const value = mainValue(part);
  return value === null ? (part.kind === 'typed' ? part.typeName : part.kind) : printQuantity(value, unitOf(part));
}

function unitOf(part: Part | undefined): Unit {
  if (part?.kind === 'capacitor') return 'F';
  return part?.kind === 'inductor' ? 'H' : 'Ω';
}

/** Two digits behind the point for dB, one for percent and millivolts. */
function signed(value: number, { unit }: Figure): string {
  const sign = value < 0 ? '−' : '+';
  return `${sign}${Math.abs(value).toFixed(unit === 'dB' ? 2 : 1)} ${unit}`;
}
