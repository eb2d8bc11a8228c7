import { openBrackets, type Frame } from './open-brackets.ts';
import type { KeyPath } from './schema-walk.ts';

/** Where the cursor stands in a YAML text, half-written as it may be. */
export interface PlaceInText {
  /** Down to the mapping in which a key is being written, or to the value. */
  readonly path: KeyPath;
  readonly of: 'key' | 'value';
  /** What is written of it before the cursor, and where that begins. */
  readonly written: string;
  readonly from: number;
}

/** A block key or the dash of a list, with its column; what follows a key on its line and deeper below is its value. */
interface Level {
  readonly column: number;
  readonly key: string | null;
  /** Where the value begins. */
  readonly from: number;
}

/**
 * Reads up to the cursor by indentation, then by brackets: a tree of a half-written text does not know yet what a line will
 * be. Null in a comment.
 */
export function placeInText(text: string, at: number): PlaceInText | null {
  const { levels, from, isKey } = blockLevels(text.slice(0, at));
  const path = levels.map(({ key }) => key);
  const brackets = isKey ? [] : openBrackets(text, from, at);
  if (brackets === null || /(^|\s)#[^\n]*$/.test(text.slice(from, at))) return null;
  const last: Frame = brackets.at(-1) ?? { isMapping: isKey, key: null, from };
  const written = text.slice(last.from, at).trimStart();
  return {
    path: [...path, ...brackets.flatMap(({ isMapping, key }) => (isMapping ? (key === null ? [] : [key]) : [null]))],
    of: last.isMapping && last.key === null ? 'key' : 'value',
    written,
    from: at - written.length,
  };
}

interface Block {
  readonly levels: readonly Level[];
  /** Where the key or the value that the text ends in begins. */
  readonly from: number;
  readonly isKey: boolean;
}

function blockLevels(text: string): Block {
  let levels: Level[] = [];
  let from = 0;
  let isKey = true;
  let start = 0;
  for (const line of text.split('\n')) {
    const end = start + line.length;
    const isLast = end === text.length;
    let column = line.search(/\S|$/);
    const isEmpty = /^\s*(#|$)/.test(line);
    const last = levels.at(-1);
    // Deeper lines that open in a bracket, or stand inside one, belong to the value of the key above.
    const isOfValue = last !== undefined && column > last.column && isFlow(text, last.from, start, line);
    if (!isOfValue && (isLast || !isEmpty)) {
      levels = levels.filter((level) => level.column < column);
      for (let dash; (dash = /^- +/.exec(line.slice(column))?.[0]) !== undefined; column += dash.length)
        levels.push({ column, key: null, from: start + column + dash.length });
      const key = /^([^#\s{["'][^{[]*?):(?=\s|$)/.exec(line.slice(column))?.[1];
      isKey = key === undefined;
      from = start + column + (key === undefined ? 0 : key.length + 1);
      if (key !== undefined) levels.push({ column, key, from });
    } else if (isOfValue) {
      isKey = false;
      from = last.from;
    }
    start = end + 1;
  }
  return { levels, from, isKey };
}

function isFlow(text: string, from: number, start: number, line: string): boolean {
  const before = text
    .slice(from, start)
    .replace(/(^|\s)#[^\n]*/g, '')
    .trim();
  return before === '' ? /^\s*[{[]/.test(line) : (openBrackets(text, from, start) ?? []).length > 0;
}
