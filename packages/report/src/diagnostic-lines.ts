import type { Diagnostic } from '@curvewright/board';
import { oneLine } from './cells.ts';

/** One line a fault: `file:line:column: what is wrong; what to write`. Empty for none. */
export function diagnosticLines(diagnostics: readonly Diagnostic[]): string {
  return diagnostics
    .map(({ place, message }) => oneLine(`${place.file}:${place.line}:${place.column}: ${message}`))
    .join('\n');
}
