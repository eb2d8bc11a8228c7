import { readFileSync } from 'node:fs';

/** A file of values from outside; the caller states the shape that the file has. */
export function outside(name: string): unknown {
  return JSON.parse(readFileSync(new URL(`../../../fixtures/outside/${name}.json`, import.meta.url), 'utf8'));
}
