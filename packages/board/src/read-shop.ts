import type { Outcome } from './diagnostics.ts';
import { readAs } from './read-as.ts';
import { shopSchema, type Shop } from './schema/shop-schema.ts';

/** Reads the text of a shop file. */
export function readShop(text: string, file: string): Outcome<Shop> {
  const read = readAs(shopSchema, text, file);
  return read.ok ? { ok: true, value: read.value.value } : read;
}
