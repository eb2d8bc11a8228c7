import type { Outcome } from '../diagnostics.ts';
import type { PartType } from '../part-type.ts';
import { inFileOrder, readAs } from '../read-as.ts';
import { strict } from '../schema/fields.ts';
import { types } from '../schema/type-schema.ts';
import { typeFaults } from '../type-faults.ts';

const typesFile = strict({ types });

/** Reads the types that are kept beside a drawer: a YAML file with `types:` alone, written as in a board file. */
export function readTypes(text: string, file: string): Outcome<Readonly<Record<string, PartType>>> {
  const read = readAs(typesFile, text, file);
  if (!read.ok) return read;
  const diagnostics = typeFaults(read.value.value.types, read.value.placeOf);
  return diagnostics.length > 0
    ? { ok: false, diagnostics: inFileOrder(diagnostics) }
    : { ok: true, value: read.value.value.types };
}
