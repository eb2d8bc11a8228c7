import type { Part } from '@curvewright/board';
import type { Figure, Probe } from './figure.ts';
import type { Variants } from './variants.ts';

/** How much a part or a swapped position moves a figure, in the figure's unit. */
export interface Effect {
  readonly ref: string;
  readonly moves: number;
}

/** The parts that can act on a figure: those of its channel and the shared ones; all for a figure of both channels. */
export function partsActingOn(figure: Figure, probe: Probe): readonly Part[] {
  const { parts, channels } = probe.stage.circuit;
  const name = figure.channel === null ? null : channels[figure.channel]!.name;
  return parts.filter(({ channel }) => name === null || channel === null || channel === name);
}

/** What a tenth more of each part's value (hFE of a transistor) does to the figure, greatest first. */
export function effectsOfParts(figure: Figure, probe: Probe, variants: Variants): readonly Effect[] {
  const effects: Effect[] = [];
  for (const { ref } of partsActingOn(figure, probe)) {
    const raised = variants.raised(ref);
    if (raised) effects.push({ ref, moves: figure.follow(raised) - figure.value });
  }
  return byMagnitude(effects);
}

/** What each swapped position contributes: the figure now minus the figure with that position back as drawn, greatest first. */
export function effectsOfSwaps(
  figure: Figure,
  probe: Probe,
  positions: readonly string[],
  variants: Variants,
): readonly Effect[] {
  const acting = new Set(partsActingOn(figure, probe).map(({ position }) => position));
  const effects: Effect[] = [];
  for (const position of positions) {
    const restored = variants.restored(position);
    if (restored && acting.has(position)) {
      effects.push({ ref: position, moves: figure.value - figure.follow(restored) });
    }
  }
  return byMagnitude(effects);
}

function byMagnitude(effects: readonly Effect[]): readonly Effect[] {
  return effects.toSorted((a, b) => Math.abs(b.moves) - Math.abs(a.moves));
}
