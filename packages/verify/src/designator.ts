import type { Part } from '@curvewright/board';
import type { Stage } from './stage.ts';

/** Ω from which a resistance is what leaks over a gap, not a part: a bench meter shows nothing there. */
const gapOhms = 100e9;

/** `D103.1` is one of two parts in a position; `C108.plus` the joint or contact that a fault put at a part's lead. */
function standsAtLead({ ref, position }: Part): boolean {
  return ref !== position && !/\.\d+$/.test(ref);
}

/** What the technician calls a part: a joint, contact or short that a fault put in goes by the part it belongs to. */
export function designatorOf(part: Part): string {
  return standsAtLead(part) ? part.position : part.ref;
}

/** The designators of those refs that are parts of the stage and act on the channel; a source, a load or a rail is none. */
export function designatorsIn(
  { circuit }: Stage,
  refs: readonly string[],
  channel: number | null = null,
): readonly string[] {
  const name = channel === null ? null : circuit.channels[channel]?.name;
  const designators = refs.flatMap((ref) => {
    const part = circuit.parts.find((each) => each.ref === ref);
    const acts = part !== undefined && (name === null || part.channel === null || part.channel === name);
    return acts ? [designatorOf(part)] : [];
  });
  return [...new Set(designators)];
}

/** A gap, contact or short that a fault put in: nothing that comes in values. */
export function isOfFault(part: Part): boolean {
  return standsAtLead(part) || (part.kind === 'resistor' && (part.ohms === 0 || part.ohms >= gapOhms));
}
