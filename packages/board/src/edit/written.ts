/** What a file says before any schema has read it: texts as written, null for an empty value. */
export type Written = string | null | readonly Written[] | WrittenMap;

export interface WrittenMap {
  readonly [key: string]: Written;
}

/** Where a text is put: inside brackets more characters have a meaning. */
export type Around = 'block' | 'flow';

/** Texts that a reader takes for an empty value. */
const emptyTexts = /^(~|null|Null|NULL)$/;
// eslint-disable-next-line no-control-regex -- these are the characters that only double quotes can carry.
const escapedOnly = /[\u0000-\u001f\u007f-\u009f\u2028\u2029\ufeff\ufffe\uffff]|\p{Surrogate}/u;
const plainForms: Readonly<Record<Around, RegExp>> = {
  block: /^(?![-?:](\s|$))(?![,[\]{}#&*!|>'"%@`])(?!\s)(?!.*(:(\s|$)|\s#))[^]*\S$/u,
  flow: /^(?![-?:](\s|$))(?![#&*!|>'"%@`])(?!\s)(?!.*(:(\s|$)|\s#))[^,[\]{}]*[^\s,[\]{}]$/u,
};

/**
 * A text as YAML 1.2 takes it (https://yaml.org/spec/1.2.2/, plain and quoted styles): plain where that reads back the
 * same, else in single quotes, in double quotes where a character needs escaping. `like` keeps the quotes of the text
 * that it replaces.
 */
export function scalarText(text: string, around: Around, like?: 'single' | 'double'): string {
  if (like === 'double' || escapedOnly.test(text)) return JSON.stringify(text).replace(awkward, escaped);
  const plain = like === undefined && plainForms[around].test(text) && !emptyTexts.test(text);
  return plain ? text : `'${text.replaceAll("'", "''")}'`;
}

/** What `JSON.stringify` leaves as it is although YAML asks for an escape. */
const awkward = /[\u007f-\u009f\u2028\u2029\ufeff\ufffe\uffff]/g;

function escaped(character: string): string {
  return `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`;
}

/** A value on one line, mappings and lists in brackets. */
export function flowText(value: Written, around: Around): string {
  if (value === null) return 'null';
  if (typeof value === 'string') return scalarText(value, around);
  if (isList(value)) return value.length === 0 ? '[]' : `[${value.map((item) => flowText(item, 'flow')).join(', ')}]`;
  const pairs = Object.entries(value).map(([key, inner]) => flowPair(key, inner));
  return pairs.length === 0 ? '{}' : `{ ${pairs.join(', ')} }`;
}

/** A key with its value inside brackets. */
export function flowPair(key: string, value: Written): string {
  return `${scalarText(key, 'flow')}: ${flowText(value, 'flow')}`;
}

export function isWrittenMap(value: Written | undefined): value is WrittenMap {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** Narrows a readonly array, which `Array.isArray` does not. */
export function isList(value: Written | undefined): value is readonly Written[] {
  return Array.isArray(value);
}

/** Whether two values say the same, in whatever order of keys. */
export function sameWritten(a: Written | undefined, b: Written | undefined): boolean {
  if (isList(a) && isList(b)) return a.length === b.length && a.every((item, index) => sameWritten(item, b[index]));
  if (isWrittenMap(a) && isWrittenMap(b)) {
    const keys = Object.keys(a);
    return (
      keys.length === Object.keys(b).length && keys.every((key) => Object.hasOwn(b, key) && sameWritten(a[key], b[key]))
    );
  }
  return a === b;
}
