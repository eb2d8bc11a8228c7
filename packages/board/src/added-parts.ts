import type { Board } from './board.ts';
import type { Part } from './circuit.ts';
import type { Diagnostic } from './diagnostics.ts';
import { designatorsOf, expandPart } from './expand-part.ts';
import type { PartType } from './part-type.ts';
import type { PlaceOf } from './read-yaml.ts';
import type { PartEntry } from './schema/part-schema.ts';

/** The parts under a job's `added:`, on the nodes of the board or on new ones of a channel; each needs a designator of its own. */
export function addedParts(
  added: Readonly<Record<string, PartEntry>>,
  board: Board,
  types: Readonly<Record<string, PartType>>,
  placeOf: PlaceOf,
): { readonly parts: readonly Part[]; readonly diagnostics: readonly Diagnostic[] } {
  const { rails, common } = board.circuit;
  const shared = new Set(['gnd', ...rails.map((rail) => rail.node), ...common]);
  const taken = new Set(board.positions.flat());
  const parts: Part[] = [];
  const diagnostics: Diagnostic[] = [];
  for (const [key, entry] of Object.entries(added)) {
    const expanded = expandPart(key, entry, { channels: board.channels, shared, types, placeOf, table: ['added'] });
    parts.push(...expanded.parts.map((part) => ({ ...part, fitted: true as const })));
    diagnostics.push(...expanded.diagnostics);
    for (const ref of designatorsOf(key)) {
      if (taken.has(ref)) {
        const message = `${ref} is taken already; write a designator of its own`;
        diagnostics.push({ code: 'designator-twice', place: placeOf(['added', key], 'key'), message });
      }
      taken.add(ref);
    }
  }
  return { parts, diagnostics };
}
