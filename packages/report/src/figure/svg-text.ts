import type { InkName } from './figure-style.ts';
import type { Plate } from './plate.ts';

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

/** Parts of the size that characters take in a wide sans: no font is at hand to ask. */
const widths: readonly (readonly [RegExp, number])[] = [
  [/[ijl.,:;'|!() ]/, 0.36],
  [/[mMW@Ω%−+]/, 0.9],
];

/** Pixels that a line of text takes, on the generous side. */
export function textWidth(text: string, size: number): number {
  const parts = [...text].map((character) => widths.find(([kind]) => kind.test(character))?.[1] ?? 0.6);
  return size * parts.reduce((sum, part) => sum + part, 0);
}

interface WordStyle {
  readonly text: string;
  readonly size: number;
  readonly ink: InkName;
  readonly anchor: 'start' | 'middle' | 'end';
}

/** Words that keep a rim of paper where they stand over lines. */
export function overLines({ ink }: Plate, style: WordStyle, x: number, y: number): string {
  return element(
    'text',
    {
      ...{ x, y, 'text-anchor': style.anchor, 'font-size': style.size, fill: ink(style.ink) },
      ...{ stroke: ink('paper'), 'stroke-width': 4, 'stroke-linejoin': 'round', 'paint-order': 'stroke' },
    },
    escaped(style.text),
  );
}
