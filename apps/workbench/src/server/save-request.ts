import type { SaveRequest } from '../contract/files.ts';

/** What a page asks to be saved, or null where that is not what it wrote. */
export function readSaveRequest(body: string): SaveRequest | null {
  let asked: unknown;
  try {
    asked = JSON.parse(body);
  } catch {
    return null;
  }
  if (typeof asked !== 'object' || asked === null) return null;
  const { path, text, base } = asked as Record<string, unknown>;
  if (typeof path !== 'string' || typeof text !== 'string') return null;
  if (base !== null && typeof base !== 'string') return null;
  // Half a character has no bytes of its own: it would come back as another text.
  return /\p{Surrogate}/u.test(text) ? null : { path, text, base };
}
