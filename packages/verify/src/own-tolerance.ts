import { toleranceOf, type Part } from '@curvewright/board';

/** How far a healthy piece may be off, as fractions of its nominal; not `stated`: what its build usually keeps. */
export interface OwnTolerance {
  readonly minus: number;
  readonly plus: number;
  readonly stated: boolean;
}

/** That of a main value, or of hFE from its low and high; null where neither the file nor the build says. */
export function ownTolerance(part: Part, parameter: string): OwnTolerance | null {
  if (parameter === 'value') {
    const found = toleranceOf(part);
    return found === null ? null : { ...found.tolerance, stated: found.stated };
  }
  if (parameter !== 'hFE' || part.kind !== 'typed' || (part.type.kind !== 'npn' && part.type.kind !== 'pnp'))
    return null;
  const { hFE, hFELow, hFEHigh } = part.type;
  const typical = hFE[0]?.value;
  if (typical === undefined || (hFELow === undefined && hFEHigh === undefined)) return null;
  return { minus: 1 - (hFELow ?? typical) / typical, plus: (hFEHigh ?? typical) / typical - 1, stated: true };
}
