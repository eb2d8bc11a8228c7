import type { Board, Capacitor, Circuit, Resistor } from '@curvewright/board';

/** A position to be trimmed, with what stands there in each channel. */
export interface TrimPlace {
  readonly parts: readonly (Resistor | Capacitor)[];
}

/** Positions that are trimmed together at most. */
export const mostTrimmed = 4;

/** The place that one of its designators, or all of them (`R119/R120`), names; in words what speaks against it. */
export function trimPlace(name: string, positions: Board['positions'], circuit: Circuit): TrimPlace | string {
  const refs = positions.find((group) => group.includes(name) || group.join('/') === name);
  if (refs === undefined) return `the board has no position ${name}; write one of its resistors or capacitors`;
  if (refs.length !== circuit.channels.length)
    return `${name} stands once for all channels; name a position that each channel has`;
  const parts = refs.flatMap((ref) => {
    const standing = circuit.parts.filter(({ position }) => position === ref);
    const [only] = standing;
    const serves =
      standing.length === 1 && (only?.kind === 'resistor' || only?.kind === 'capacitor') && only.ref === ref;
    return serves ? [only] : [];
  });
  if (parts.length < refs.length)
    return `${refs.join('/')} does not hold one resistor or capacitor once the work is done; trim a position that does`;
  return { parts };
}
