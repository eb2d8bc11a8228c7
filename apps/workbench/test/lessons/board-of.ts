import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { TextOf } from '../../src/contract/sheet.ts';

/** `lk417` → the seed board's file, as the page names it. */
export function seedBoard(name: string): TextOf {
  const path = `boards/${name}.board.yaml`;
  return { path, text: readFileSync(join(import.meta.dirname, '../../../../seeds', path), 'utf8') };
}

export const seedNames: readonly string[] = ['lk205', 'lk310', 'lk417', 'lk520', 'lk630'];
