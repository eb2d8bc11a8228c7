import type { Board } from './board.ts';
import type { Diagnostic, Outcome } from './diagnostics.ts';
import { designatorsOf } from './expand-part.ts';
import { suggestion } from './nearest.ts';
import type { PlaceOf } from './read-yaml.ts';
import type { BoardFile } from './schema/board-schema.ts';

/** The groups that `matched` lists; each designator has to stand under `parts` and in one group only. */
export function matchedOf(written: BoardFile, placeOf: PlaceOf): Outcome<Board['matched']> {
  const known = Object.keys(written.parts).flatMap(designatorsOf);
  const groups = (written.matched ?? []).map(designatorsOf);
  const taken = new Set<string>();
  const diagnostics: Diagnostic[] = [];
  groups.forEach((refs, n) => {
    const place = placeOf(['matched', n], 'value');
    for (const ref of refs) {
      if (!known.includes(ref)) {
        const message = `matched: there is no part ${ref}; ${suggestion(ref, known)}`;
        diagnostics.push({ code: 'unknown-position', place, message });
      } else if (taken.has(ref)) {
        const message = `matched: ${ref} is named twice; write all that are alike in one entry`;
        diagnostics.push({ code: 'designator-twice', place, message });
      }
      taken.add(ref);
    }
  });
  return diagnostics.length > 0 ? { ok: false, diagnostics } : { ok: true, value: groups };
}
