import {
  isAlias,
  isMap,
  isScalar,
  isSeq,
  parseDocument,
  type Document,
  type Node,
  type YAMLParseError,
  type YAMLWarning,
} from 'yaml';
import type { Diagnostic, DiagnosticCode, Place } from './diagnostics.ts';
import { flowPairs } from './flow-text.ts';
import { shown } from './schema/fields.ts';
import { placesIn } from './text-places.ts';

/** Keys and list indices from the file's root down to a value. */
export type Path = readonly PropertyKey[];

/**
 * Where a key or its value stands. For a path that the file does not have, the place of the nearest key above it.
 */
export type PlaceOf = (path: Path, of: 'key' | 'value') => Place;

/** A file as plain data: mappings, lists, texts as written, and null for an empty value. */
export interface YamlFile {
  /** Undefined where the text is no YAML at all. */
  readonly value: unknown;
  readonly placeOf: PlaceOf;
  readonly diagnostics: readonly Diagnostic[];
}

/** Nodes that may be read through aliases: enough to repeat a part or two, too few to blow a small file up. */
const aliasBudget = 2000;
/** Mappings and lists inside each other; the deepest format needs seven. */
const depthLimit = 30;
const errorLimit = 10;
const tooDeep = 'cannot be read as YAML; write fewer levels of brackets';

/**
 * Reads YAML 1.2 (https://yaml.org/spec/1.2.2/, failsafe schema): every scalar stays the text that was written, so that
 * serial numbers keep their leading zeros and a number without a unit can be refused by the field that needs one.
 */
export function readYaml(text: string, file: string): YamlFile {
  const place = placesIn(text, file);
  const unreadable = (message: string): YamlFile => {
    const start = { file, line: 1, column: 1 };
    return { value: undefined, placeOf: () => start, diagnostics: [{ code: 'yaml-syntax', place: start, message }] };
  };

  let document: Document.Parsed;
  try {
    document = parseDocument(text, { schema: 'failsafe', uniqueKeys: false, prettyErrors: false });
  } catch {
    return unreadable(tooDeep);
  }
  const errors = [...document.errors, ...document.warnings];
  // The parser calls itself for each level: text of nothing but brackets runs it out of stack.
  if (errors.some((error) => error.message.includes('call stack'))) return unreadable(tooDeep);
  if (errors.length > 0) {
    const diagnostics = errors.slice(0, errorLimit).map((error): Diagnostic => ({
      code: 'yaml-syntax',
      place: place(error.pos[0]),
      message: syntaxMessage(error),
    }));
    return { value: undefined, placeOf: () => place(0), diagnostics };
  }

  const offsets = new Map<string, { key: number; value: number }>();
  const diagnostics: Diagnostic[] = [];
  const report = (code: DiagnosticCode, offset: number, message: string): void => {
    diagnostics.push({ code, place: place(offset), message });
  };
  const walk: Walk = { source: text, document, offsets, report, aliased: 0, tooMuch: false };
  const root = document.contents;
  const value = root === null ? null : plain(walk, root, [], root.range?.[0] ?? 0, false);
  const placeOf: PlaceOf = (path, of) => {
    for (let length = path.length; length > 0; length--) {
      const found = offsets.get(pathKey(path.slice(0, length)));
      if (found !== undefined) return place(length === path.length ? found[of] : found.key);
    }
    return place(root?.range?.[0] ?? 0);
  };
  return { value, placeOf, diagnostics };
}

interface Walk {
  readonly source: string;
  readonly document: Document.Parsed;
  readonly offsets: Map<string, { key: number; value: number }>;
  readonly report: (code: DiagnosticCode, offset: number, message: string) => void;
  aliased: number;
  tooMuch: boolean;
}

/** The plain value of a node; `offset` is where it is written, which for an aliased value is the alias. */
function plain(walk: Walk, node: unknown, path: Path, offset: number, inAlias: boolean): unknown {
  if (inAlias) walk.aliased += 1;
  if (walk.aliased > aliasBudget || path.length > depthLimit) {
    if (!walk.tooMuch) walk.report('yaml-syntax', offset, 'too much is nested or repeated by aliases; write it out');
    walk.tooMuch = true;
    return null;
  }
  const at = (child: unknown): number => (inAlias ? offset : ((child as Node | null)?.range?.[0] ?? offset));

  if (isAlias(node)) {
    const target = node.resolve(walk.document);
    if (target === undefined) {
      walk.report('yaml-syntax', offset, `nothing is called &${shown(node.source)}; write it out`);
      return null;
    }
    return plain(walk, target, path, offset, true);
  }
  if (isSeq(node)) {
    return node.items.map((item, index) => {
      const itemPath = [...path, index];
      walk.offsets.set(pathKey(itemPath), { key: at(item), value: at(item) });
      return plain(walk, item, itemPath, at(item), inAlias);
    });
  }
  if (isMap(node)) {
    const record: Record<string, unknown> = {};
    for (const { pair, text } of flowPairs(node, walk.source)) {
      const name = isScalar(pair.key) ? String(pair.key.value) : '';
      const keyOffset = at(pair.key);
      if (name === '' || name === '__proto__') {
        walk.report(
          name === '' ? 'yaml-syntax' : 'unknown-key',
          keyOffset,
          'a key has to be a name; write NAME: VALUE',
        );
      } else if (Object.hasOwn(record, name)) {
        const code =
          path.length === 1 && (path[0] === 'parts' || path[0] === 'added') ? 'designator-twice' : 'yaml-syntax';
        walk.report(code, keyOffset, `${shown(name)} is written twice; write it once`);
      } else {
        const childPath = [...path, name];
        const valueOffset = isEmpty(pair.value) ? keyOffset : at(pair.value);
        walk.offsets.set(pathKey(childPath), { key: keyOffset, value: valueOffset });
        record[name] = text ?? plain(walk, pair.value, childPath, valueOffset, inAlias);
      }
    }
    return record;
  }
  return isScalar(node) && !isEmpty(node) ? String(node.value) : null;
}

/** No value, or one of the texts that YAML's core schema reads as null. */
function isEmpty(node: unknown): boolean {
  return node === null || (isScalar(node) && node.type === 'PLAIN' && /^(|~|null|Null|NULL)$/.test(String(node.value)));
}

function pathKey(path: Path): string {
  return JSON.stringify(path);
}

function syntaxMessage(error: YAMLParseError | YAMLWarning): string {
  if (error.code === 'MULTIPLE_DOCS') return 'a second document begins here; write one file for each';
  const line = error.message.replace(/\s+/g, ' ').trim();
  return `not YAML here: ${line.charAt(0).toLowerCase()}${line.slice(1, 200)}`;
}
