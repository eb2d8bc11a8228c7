/** One element; attributes without a value are left out, numbers in hundredths of a pixel. */
export function element(
  name: string,
  attributes: Readonly<Record<string, string | number | undefined>>,
  content: string = '',
): string {
  const written = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => ` ${key}="${typeof value === 'number' ? short(value) : escaped(value ?? '')}"`)
    .join('');
  return content === '' ? `<${name}${written}/>` : `<${name}${written}>${content}</${name}>`;
}

export function short(value: number): string {
  return String(Math.round(value * 100) / 100);
}

/** Characters that XML 1.0 has no place for, or that would turn the reading direction. */
const unwanted = /[\p{Cc}\p{Cs}\u2028\u2029\u200E\u200F\u202A-\u202E\u2066-\u2069\uFFFE\uFFFF]+/gu;

const entities: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Foreign text as content or as an attribute's value. */
export function escaped(text: string): string {
  return text.replace(unwanted, ' ').replace(/[&<>"']/g, (character) => entities[character] ?? '');
}

/** Pixels that a line of text takes, on the generous side: no font is at hand to ask. */
export function textWidth(text: string, size: number): number {
  return 0.57 * size * [...text].length;
}
