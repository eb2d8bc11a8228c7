import { isCollection, isMap, isScalar, parseDocument, type Pair, type Scalar, type YAMLMap, type YAMLSeq } from 'yaml';
import { flowPairs } from '../flow-text.ts';
import type { Layout } from './layout.ts';

/** A YAML text with its nodes, which know where they stand. */
export interface Source {
  readonly text: string;
  readonly root: YAMLMap;
  /** Columns that one level stands further in than the one above. */
  readonly step: number;
}

export type Collection = YAMLMap | YAMLSeq;

/** One key with its value, or one item of a list; offsets into the text. */
export interface Entry {
  readonly key: Scalar | null;
  readonly value: unknown;
  /** Of the key, or of a list's dash. */
  readonly start: number;
  /** Behind the last character of the value, before any comment. */
  readonly end: number;
  /** Behind the colon or the dash; null where there is none. */
  readonly opened: number | null;
}

/** Null where the text is no mapping of YAML. */
export function sourceOf(text: string): Source | null {
  const document = parseDocument(text, {
    schema: 'failsafe',
    uniqueKeys: false,
    prettyErrors: false,
    keepSourceTokens: true,
  });
  const root = document.contents;
  if (document.errors.length > 0 || !isMap(root)) return null;
  const inner = root.items.map(({ value }) => value).find((value) => isMap(value) && value.flow !== true);
  const first = isMap(inner) ? inner.items[0]?.key : undefined;
  const column = isScalar(first) && first.range ? columnOf(text, first.range[0]) : 0;
  return { text, root, step: column > 0 ? column : 2 };
}

export function isFlow(collection: Collection): boolean {
  return collection.flow === true;
}

/** What a mapping or a list consists of, in the order of the text. */
export function entriesOf({ text }: Pick<Source, 'text'>, collection: Collection): readonly Entry[] {
  if (isMap(collection)) {
    return flowPairs(collection, text).map(({ pair, end }) => {
      const entry = pairEntry(text, pair);
      return end === undefined ? entry : { ...entry, end };
    });
  }
  const token = collection.srcToken;
  const tokens = token?.type === 'block-seq' ? token.items : [];
  return collection.items.map((value, index) => {
    const dash = tokens[index]?.start.find(({ type }) => type === 'seq-item-ind')?.offset;
    const opened = dash === undefined ? null : dash + 1;
    const start = dash ?? rangeOf(value)?.[0] ?? 0;
    return { key: null, value, start, end: isBlank(value) ? (opened ?? start) : contentEnd(text, value), opened };
  });
}

function pairEntry(text: string, { key, value }: Pair): Entry {
  const scalar = isScalar(key) ? key : null;
  const [start = 0, keyEnd = 0] = rangeOf(key) ?? [];
  const opened = value === null ? null : text.indexOf(':', keyEnd) + 1;
  return { key: scalar, value, start, end: isBlank(value) ? (opened ?? keyEnd) : contentEnd(text, value), opened };
}

/** Whether nothing at all is written where a value would stand. */
export function isBlank(value: unknown): boolean {
  const range = rangeOf(value);
  return range === null || (isScalar(value) && range[0] === range[1]);
}

export function rangeOf(node: unknown): readonly [number, number] | null {
  const range = (node as { range?: readonly [number, number, number] | null } | null)?.range;
  return range ? [range[0], range[1]] : null;
}

export function isBlockScalar(node: unknown): boolean {
  return isScalar(node) && (node.type === 'BLOCK_FOLDED' || node.type === 'BLOCK_LITERAL');
}

/** Behind what a node says: the range of a block also takes in the comments and line ends that follow it. */
function contentEnd(text: string, node: unknown): number {
  const [start, end] = rangeOf(node) ?? [0, 0];
  if (isCollection(node) && node.flow !== true) return entriesOf({ text }, node).at(-1)?.end ?? end;
  if (!isBlockScalar(node)) return end;
  const body = text.slice(start, end);
  // With + the empty lines at the end belong to the text.
  const kept = /^[|>]\d?\+/.test(body) ? body.replace(/\r?\n$/, '') : body.trimEnd();
  return start + kept.length;
}

export function lineStart(text: string, offset: number): number {
  const start = text.lastIndexOf('\n', offset - 1) + 1;
  return start === 0 && text.startsWith('\ufeff') ? 1 : start;
}

/** Of the last character of the line that is no line end. */
export function lineEnd(text: string, offset: number): number {
  const end = text.indexOf('\n', offset);
  if (end < 0) return text.length;
  return text[end - 1] === '\r' && end > offset ? end - 1 : end;
}

/** Behind the line end; the end of the text where there is none. */
export function nextLine(text: string, offset: number): number {
  const end = text.indexOf('\n', offset);
  return end < 0 ? text.length : end + 1;
}

/** How the text stands around a key at `offset`. */
export function layoutAt({ text, step }: Source, offset: number): Layout {
  return { column: columnOf(text, offset), step, lineBreak: lineBreakAt(text, offset) };
}

function columnOf(text: string, offset: number): number {
  return offset - lineStart(text, offset);
}

/** The line end that the text uses at `offset`, or before it where it is the last line. */
function lineBreakAt(text: string, offset: number): string {
  const end = text.indexOf('\n', offset);
  const at = end < 0 ? text.indexOf('\n') : end;
  return at > 0 && text[at - 1] === '\r' ? '\r\n' : '\n';
}
