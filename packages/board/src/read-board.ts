import { drawnAmbient, type Board } from './board.ts';
import type { Channel, NodeName, Part, Rail } from './circuit.ts';
import type { Diagnostic, Outcome } from './diagnostics.ts';
import { drawingOf } from './drawn-places.ts';
import { fullNode } from './expand-nodes.ts';
import { designatorsOf, expandPart, type ExpansionScope } from './expand-part.ts';
import { leadsOf } from './leads.ts';
import { loopsOf } from './loop-lead.ts';
import { matchedOf } from './matched-parts.ts';
import { nearest } from './nearest.ts';
import { inFileOrder, readAs, type FileContent } from './read-as.ts';
import type { PlaceOf } from './read-yaml.ts';
import { boardFile, type BoardFile } from './schema/board-schema.ts';
import { stated } from './stated.ts';
import { typeFaults } from './type-faults.ts';

/**
 * Reads the text of a board file; `file` is its name in messages. Either the board, or every fault found: first those of
 * form and values, and once there are none, those of designators, types and nodes.
 */
export function readBoard(text: string, file: string): Outcome<Board> {
  const content = readAs<BoardFile>(boardFile, text, file);
  return content.ok ? boardOf(content.value, file) : content;
}

function boardOf({ value: written, placeOf }: FileContent<BoardFile>, file: string): Outcome<Board> {
  const channels = written.channels ?? ['mono'];
  const rails = railsOf(written, placeOf);
  const railNodes = new Set(rails.map((rail) => rail.node));
  const common = [...new Set(written.common)].filter((node) => node !== 'gnd' && !railNodes.has(node));
  const types = withoutPrototype(written.types ?? {});
  const shared = new Set(['gnd', ...railNodes, ...common]);
  const scope: ExpansionScope = { channels, shared, types, placeOf, table: ['parts'] };

  const diagnostics: Diagnostic[] = [...twiceNamed(written, placeOf), ...typeFaults(written.types ?? {}, placeOf)];
  const parts: Part[] = [];
  for (const [key, entry] of Object.entries(written.parts)) {
    const expanded = expandPart(key, entry, scope);
    parts.push(...expanded.parts);
    diagnostics.push(...expanded.diagnostics);
  }
  // A part that could not be read may be the one that touches the input: what its faults are is said already.
  const ends = endsOf(written, scope, diagnostics.length > 0 ? null : touched(parts));
  diagnostics.push(...ends.diagnostics);
  const loop = loopsOf(written, parts, placeOf);
  if (diagnostics.length === 0 && !loop.ok) diagnostics.push(...loop.diagnostics);
  const matched = matchedOf(written, placeOf);
  if (!matched.ok) diagnostics.push(...matched.diagnostics);
  const drawing = drawingOf(written, placeOf);
  if (!drawing.ok) diagnostics.push(...drawing.diagnostics);
  if (diagnostics.length > 0 || !loop.ok || !matched.ok || !drawing.ok)
    return { ok: false, diagnostics: inFileOrder(diagnostics) };

  const entries = Object.entries(written.parts).map(([key, entry]) => [designatorsOf(key), entry] as const);
  return {
    ok: true,
    value: {
      file,
      title: written.title,
      channels,
      channelsStated: written.channels !== undefined,
      circuit: { title: written.title, channels: ends.channels, rails, common, parts, ambient: drawnAmbient },
      types,
      cartridges: withoutPrototype(written.cartridges ?? {}),
      limits: written.limits ?? {},
      loops: loop.value,
      matched: matched.value,
      drawing: withoutPrototype(drawing.value),
      seats: byDesignator(entries.map(([refs, { seat }]) => [refs, seat])),
      bodies: byDesignator(entries.map(([refs, { body }]) => [refs, body])),
      positions: entries.map(([refs]) => refs),
    },
  };
}

function railsOf(written: BoardFile, placeOf: PlaceOf): readonly Rail[] {
  return Object.entries(written.rails ?? {}).map(([node, rail]) => ({
    node,
    volts: rail.volts,
    resistance: rail.resistance ?? 0,
    ...stated({ ripple: rail.ripple, rippleFrequency: rail.ripple_frequency, harmonics: rail.harmonics }),
    place: placeOf(['rails', node], 'key'),
  }));
}

function twiceNamed(written: BoardFile, placeOf: PlaceOf): readonly Diagnostic[] {
  const taken = new Map<string, string>();
  const diagnostics: Diagnostic[] = [];
  for (const key of Object.keys(written.parts)) {
    for (const ref of designatorsOf(key)) {
      const before = taken.get(ref);
      taken.set(ref, key);
      if (before === undefined) continue;
      const place = placeOf(['parts', key], 'key');
      const message = `${ref} stands in ${before === key ? `${key} twice` : `${before} already`}; write a designator of its own`;
      diagnostics.push({ code: 'designator-twice', place, message });
    }
  }
  return diagnostics;
}

/** The input and output of each channel; `nodes` are those that parts touch, null where that is not known. */
function endsOf(
  written: BoardFile,
  scope: ExpansionScope,
  nodes: ReadonlySet<NodeName> | null,
): { readonly channels: readonly Channel[]; readonly diagnostics: readonly Diagnostic[] } {
  const diagnostics: Diagnostic[] = [];
  const nodeOf = (end: 'input' | 'output', channel: string): NodeName => {
    const name = written[end].node;
    const reading = fullNode(name, channel, scope);
    const node = reading.ok ? reading.node : name;
    const message = endFault(name, reading.ok ? node : null, scope, nodes);
    const place = scope.placeOf([end, 'node'], 'value');
    if (
      message !== null &&
      !diagnostics.some((known) => known.place.line === place.line && known.place.column === place.column)
    )
      diagnostics.push({ code: 'unknown-node', place, message: `${end}: ${message}` });
    return node;
  };
  const channels = scope.channels.map((name) => ({
    name,
    input: nodeOf('input', name),
    output: nodeOf('output', name),
    load: written.output.load ?? {},
  }));
  return { channels, diagnostics };
}

function endFault(
  name: string,
  node: NodeName | null,
  { channels, shared }: ExpansionScope,
  nodes: ReadonlySet<NodeName> | null,
): string | null {
  const [bare = ''] = name.split('@');
  if (name === 'gnd' || (shared.has(bare) && channels.length > 1))
    return `${bare} is shared; write a node that each channel has of its own`;
  if (name !== bare) return `${name} names a channel, but the key speaks for each; write ${bare}`;
  if (nodes === null || node === null || nodes.has(node)) return null;
  const near = nearest(bare, new Set([...nodes].map((each) => each.split('@')[0] ?? '')));
  return `no part touches ${node}; ${near === null ? 'write a node that a part is joined to' : `did you mean ${near}?`}`;
}

function touched(parts: readonly Part[]): ReadonlySet<NodeName> {
  return new Set(parts.flatMap((part) => Object.values(leadsOf(part))));
}

function byDesignator<T>(
  entries: readonly (readonly [refs: readonly string[], value: T | undefined])[],
): Readonly<Record<string, T>> {
  const named = entries.flatMap(([refs, value]) =>
    value === undefined ? [] : refs.map((ref) => [ref, value] as const),
  );
  return withoutPrototype(Object.fromEntries(named));
}

/** A record in which only its own names are found: a file may well name something `constructor`. */
function withoutPrototype<T>(record: Readonly<Record<string, T>>): Readonly<Record<string, T>> {
  return Object.assign(Object.create(null) as Record<string, T>, record);
}
