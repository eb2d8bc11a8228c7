import type { Capacitor, Part } from '@curvewright/board';
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

/** What a tenth more of each part's value (hFE of a transistor) does to the figure, greatest first; without those that rounding alone moves. */
export function effectsOfParts(figure: Figure, probe: Probe, variants: Variants): readonly Effect[] {
  const effects: Effect[] = [];
  for (const { ref } of partsActingOn(figure, probe)) {
    const raised = variants.raised(ref);
    if (raised) effects.push({ ref, moves: figure.follow(raised) - figure.value });
  }
  return byMagnitude(effects.filter(({ moves }) => Math.abs(moves) > 1e-6 * Math.abs(figure.good)));
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

/** Below this the coupling, feedback-leg and emitter capacitors shape the curve, Hz: common practice, no source. */
const bassUpTo = 200;

/**
 * For a figure in the bass: the capacitors that are as good as a link at 1 kHz (a thousandfold value moves the gain there
 * by less than 1 dB), which is what coupling and feedback-leg capacitors are, with what a tenth more of each moves.
 */
export function effectsOfCouplings(figure: Figure, probe: Probe, variants: Variants): readonly Effect[] {
  if (figure.hz === null || figure.hz > bassUpTo) return [];
  const effects: Effect[] = [];
  for (const part of partsActingOn(figure, probe)) {
    if (part.kind !== 'capacitor' || !isLinkAt1kHz(part, figure, probe, variants)) continue;
    const raised = variants.raised(part.ref);
    if (raised) effects.push({ ref: part.ref, moves: figure.follow(raised) - figure.value });
  }
  return byMagnitude(effects);
}

function isLinkAt1kHz(part: Capacitor, figure: Figure, probe: Probe, variants: Variants): boolean {
  const large = variants.withValue(part.ref, part.farads * 1000);
  if (large === null) return false;
  const channels = figure.channel === null ? probe.stage.circuit.channels.map((_, i) => i) : [figure.channel];
  return channels.every((i) => Math.abs(large.reader.gainDb(i, 1000) - probe.reader.gainDb(i, 1000)) < 1);
}

/** Twins move a figure of both channels by the same but for rounding: what six digits do not tell apart stays in the board's order. */
function byMagnitude(effects: readonly Effect[]): readonly Effect[] {
  const magnitude = ({ moves }: Effect): number => Number(Math.abs(moves).toPrecision(6));
  return effects.toSorted((a, b) => magnitude(b) - magnitude(a));
}
