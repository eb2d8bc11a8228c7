import type { Board, Circuit, Part } from '@curvewright/board';

/** A position that pieces are sorted for: the part that stands there in the first and in the last channel. */
export interface MatchPlace {
  readonly parts: readonly [Part, Part];
}

/** The place that one of its designators, or all of them (`Q101/Q102`), names; in words what speaks against it. */
export function matchPlace(name: string, positions: Board['positions'], circuit: Circuit): MatchPlace | string {
  const refs = positions.find((group) => group.includes(name) || group.join('/') === name);
  if (refs === undefined) {
    const some = positions.filter(({ length }) => length > 1).slice(0, 3);
    return `the board has no position ${name}; write one that both channels have: ${some.map((group) => group.join('/')).join(', ')} …`;
  }
  const [first, last] = [refs[0], refs.at(-1)];
  if (first === undefined || last === undefined || first === last)
    return `${name} stands once for all channels: there is nothing to match; name a position that each channel has`;
  if (packageOf(first) === packageOf(last))
    return `${refs.join('/')} are halves of one package, which is fitted as it comes; match pieces that are chosen one by one`;
  const [left, right] = [onlyPartAt(first, circuit), onlyPartAt(last, circuit)];
  if (left === null || right === null)
    return `${left === null ? first : last} does not hold one part once the work is done; match pieces for a position that does`;
  return { parts: [left, right] };
}

function onlyPartAt(ref: string, { parts }: Circuit): Part | null {
  const standing = parts.filter(({ position }) => position === ref);
  const [only] = standing;
  return standing.length === 1 && only?.ref === ref ? only : null;
}

/** `V101` of `V101A`. */
function packageOf(ref: string): string {
  return ref.replace(/[A-Z]$/, '');
}
