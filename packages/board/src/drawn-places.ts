import type { Board } from './board.ts';
import type { Diagnostic, Outcome } from './diagnostics.ts';
import { designatorsOf } from './expand-part.ts';
import { suggestion } from './nearest.ts';
import type { PlaceOf } from './read-yaml.ts';
import type { BoardFile } from './schema/board-schema.ts';

/** Where `drawing` wants parts, for the part that it names and those of the same position in the other channels. */
export function drawingOf(written: BoardFile, placeOf: PlaceOf): Outcome<Board['drawing']> {
  const positions = Object.keys(written.parts).map(designatorsOf);
  const known = positions.flat();
  const wanted: Record<string, readonly [number, number]> = {};
  const diagnostics: Diagnostic[] = [];
  for (const [key, [x = 0, y = 0]] of Object.entries(written.drawing ?? {})) {
    for (const ref of designatorsOf(key)) {
      const twins = positions.find((refs) => refs.includes(ref));
      if (twins === undefined) {
        const message = `drawing: there is no part ${ref}; ${suggestion(ref, known)}`;
        diagnostics.push({ code: 'unknown-position', place: placeOf(['drawing', key], 'key'), message });
      }
      for (const twin of twins ?? []) wanted[twin] = [x, y];
    }
  }
  return diagnostics.length > 0 ? { ok: false, diagnostics } : { ok: true, value: wanted };
}
