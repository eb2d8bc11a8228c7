import type { Diagnostic } from './diagnostics.ts';
import { orderFault } from './expand-typed.ts';
import type { PartType } from './part-type.ts';
import type { PlaceOf } from './read-yaml.ts';

/** Lead orders under a file's `types:` that their kind of part cannot have. */
export function typeFaults(types: Readonly<Record<string, PartType>>, placeOf: PlaceOf): readonly Diagnostic[] {
  return Object.entries(types).flatMap(([name, type]): Diagnostic[] => {
    const cases = [type.caseLeads, ...(type.otherCases ?? [])];
    const message = cases.map((leads) => orderFault(type.kind, leads?.order)).find((fault) => fault !== null);
    if (message === undefined) return [];
    return [
      { code: 'lead-order', place: placeOf(['types', name, 'case_leads'], 'value'), message: `${name}: ${message}` },
    ];
  });
}
