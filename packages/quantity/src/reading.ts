export type QuantityFault =
  'bare-number' | 'comma-decimal' | 'unknown-unit' | 'wrong-unit' | 'not-a-quantity' | 'out-of-range';

/** What a text reads as, or what is wrong with it: one line, "what is wrong; what to write". */
export type Reading<T = number> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly fault: QuantityFault; readonly message: string };

export function fault(kind: QuantityFault, message: string): Reading<never> {
  return { ok: false, fault: kind, message };
}

/** No quantity is longer; what is would only keep the pattern matching busy. */
export const longestText: number = 200;

/** Foreign text made fit to stand in a one-line message. */
export function quote(text: string): string {
  const line = text
    .slice(0, longestText)
    .replace(/[\s\p{Cc}]+/gu, ' ')
    .trim();
  if (line === '') return 'an empty text';
  const characters = [...line];
  return characters.length > 40 ? `${characters.slice(0, 40).join('')}…` : line;
}

/** What a value other than text is called in a message. */
export function nameOf(value: unknown): string {
  if (value === null || value === undefined) return 'an empty place';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object') return 'a group of keys';
  return typeof value === 'boolean' ? String(value) : 'this';
}
