import type { Circuit, Part } from '@curvewright/board';
import type { LiveParameter } from '@curvewright/network';
import { ownTolerance } from '../own-tolerance.ts';
import { streamOf, uniform } from './uniform.ts';

/** Parameters that one draw moves together, each from its `low` (draw 0) to its `high` (draw 1). */
export interface DrawGroup {
  /** Designators, in the board's order. */
  readonly refs: readonly string[];
  readonly parameter: LiveParameter['parameter'];
  readonly stream: number;
  /** The draw at which the first member has its nominal value. */
  readonly nominal: number;
  readonly members: readonly { readonly index: number; readonly low: number; readonly high: number }[];
}

/** What a board's tolerances say of the parameters that a live board has. */
export interface Draws {
  readonly nominal: Float64Array;
  readonly groups: readonly DrawGroup[];
  /** Designators whose tolerance is that of their build. */
  readonly byBuild: readonly string[];
  /** Designators that are held: their files state neither a tolerance nor a build, or no span of hFE. */
  readonly exact: readonly string[];
}

/**
 * Each part draws by itself, uniform from end to end of its tolerance, hFE uniform from its low to its high. `matched` groups draw alike, and
 * so do the halves of one package (Q101A, Q101B), which come from one piece of silicon.
 */
export function drawsOf(
  circuit: Circuit,
  parameters: readonly LiveParameter[],
  matched: readonly (readonly string[])[],
): Draws {
  const parts = new Map(circuit.parts.map((part) => [part.ref, part]));
  const groups = new Map<string, { refs: string[]; nominal: number; members: DrawGroup['members'][number][] }>();
  const byBuild: string[] = [];
  const exact: string[] = [];
  parameters.forEach((parameter, index) => {
    const part = parts.get(parameter.ref);
    const own = part === undefined ? null : ownTolerance(part, parameter.parameter);
    if (part === undefined || own === null || own.minus + own.plus <= 0) {
      exact.push(parameter.ref);
      return;
    }
    if (!own.stated) byBuild.push(part.ref);
    const name = `${drawName(part, matched)} ${parameter.parameter}`;
    const nominal = own.minus / (own.minus + own.plus);
    const group = groups.get(name) ?? { refs: [], nominal, members: [] };
    groups.set(name, group);
    group.refs.push(part.ref);
    group.members.push({
      index,
      low: parameter.nominal * (1 - own.minus),
      high: parameter.nominal * (1 + own.plus),
    });
  });
  return {
    nominal: Float64Array.from(parameters, ({ nominal }) => nominal),
    groups: [...groups].map(([name, group]) => ({
      ...group,
      parameter: parameters[group.members[0]!.index]!.parameter,
      stream: streamOf(name),
    })),
    byBuild,
    exact,
  };
}

/** What names the draw of a part: its matched group, its package, or itself; members of a fitted string keep their number. */
function drawName({ ref, position }: Part, matched: readonly (readonly string[])[]): string {
  const group = matched.find((refs) => refs.includes(position))?.join('/');
  const [, body] = /^([A-Z]+\d+)[A-Z]$/.exec(position) ?? [];
  return `${group ?? body ?? position}${ref.slice(position.length)}`;
}

/** Writes the values at these draws, one for each group, into `target`, one for each parameter. */
export function writeValues({ nominal, groups }: Draws, draws: ArrayLike<number>, target: Float64Array): void {
  target.set(nominal);
  groups.forEach(({ members }, g) => {
    for (const { index, low, high } of members) target[index] = low + draws[g]! * (high - low);
  });
}

/** Writes the draws of one board, one for each group, into `target`. */
export function drawBoard({ groups }: Draws, seed: number, board: number, target: Float64Array): void {
  groups.forEach(({ stream }, g) => {
    target[g] = uniform(seed, stream, board);
  });
}
