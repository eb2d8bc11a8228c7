import type { Part } from './circuit.ts';
import type { Diagnostic } from './diagnostics.ts';
import { asInserted } from './insertion.ts';
import type { Standing } from './job.ts';
import { acrossNodes, twoLeads } from './leads.ts';
import type { WrittenPosition } from './position-keys.ts';
import type { PlaceOf } from './read-yaml.ts';
import type { Refuse, Supply } from './supply.ts';
import type { Swapped } from './swap.ts';

/**
 * `inserted` and `reversed` beside `fit`: they say how the part that stands there after the work goes in, the fitted
 * one or else the old one put back. Null where the job writes neither.
 */
export function reinserted(
  drawn: Part,
  after: Standing | undefined,
  written: WrittenPosition,
  supply: Supply,
  placeOf: PlaceOf,
): Swapped | null {
  const { inserted, reversed } = written;
  const path = inserted?.path ?? reversed?.path;
  if (path === undefined) return null;
  const diagnostics: Diagnostic[] = [];
  const refuse: Refuse = (code, key, message) => {
    diagnostics.push({
      code,
      place: placeOf([...path.slice(0, -1), key], 'value'),
      message: `${drawn.ref}: ${message}`,
    });
  };
  const { faults, notes } = after ?? { faults: [], notes: [] };
  const [part, ...others] = after?.parts ?? [drawn];
  if (part === undefined || others.length > 0) {
    const message = 'one part goes in one way; write it with each part under fit, or leave it out';
    refuse('fit-mismatch', String(path.at(-1)), message);
    return { parts: [], faults, notes, diagnostics };
  }
  const insertion = { ...(inserted && { inserted: inserted.value }), ...(reversed && { reversed: reversed.value }) };
  const standing = asInserted(onDrawnNodes(part, drawn), insertion, supply.holes, refuse);
  return { parts: standing === null ? [] : [standing], faults, notes, diagnostics };
}

/** A part that was pulled from a wrong insertion starts from the drawn one again. */
function onDrawnNodes(part: Part, drawn: Part): Part {
  if (part.kind === 'typed' && drawn.kind === 'typed') {
    const { inserted: _, ...rest } = part;
    return { ...rest, leads: drawn.leads };
  }
  const nodes = twoLeads(drawn);
  return nodes === null ? part : acrossNodes(part, nodes[0], nodes[1]);
}
