import type { NodeName, Part, PartCommon } from './circuit.ts';
import type { Diagnostic } from './diagnostics.ts';
import { fullNode, type NodeAt, type NodeScope, type Report } from './expand-nodes.ts';
import { expandTyped } from './expand-typed.ts';
import { leadsOf } from './leads.ts';
import type { PartType } from './part-type.ts';
import { inFileOrder } from './read-as.ts';
import type { Path, PlaceOf } from './read-yaml.ts';
import { leakageOhms, type CapacitorEntry, type PartEntry } from './schema/part-schema.ts';
import { stated } from './stated.ts';

/** What the entries of a table of parts refer to. */
export interface ExpansionScope extends NodeScope {
  readonly types: Readonly<Record<string, PartType>>;
  readonly placeOf: PlaceOf;
  /** The table in the file: `['parts']` or `['added']`. */
  readonly table: Path;
}

export interface Expanded {
  readonly parts: readonly Part[];
  readonly diagnostics: readonly Diagnostic[];
}

/** The designators of a key: `R101/R102` are two. */
export function designatorsOf(key: string): readonly string[] {
  return key.split('/');
}

/** The parts that one entry stands for: one for each channel, or one for all where it has a single designator. */
export function expandPart(key: string, entry: PartEntry, scope: ExpansionScope): Expanded {
  const at = [...scope.table, key];
  const faults = new Map<string, Diagnostic>();
  const report: Report = (code, below, of, message) => {
    const place = scope.placeOf([...at, ...below], of);
    // Both channels' parts come from one entry and have the same faults.
    faults.set(`${code} ${place.line} ${place.column}`, { code, place, message: `${key}: ${message}` });
  };
  const outcome = (parts: readonly Part[]): Expanded => ({ parts, diagnostics: inFileOrder([...faults.values()]) });

  const refs = designatorsOf(key);
  const { channels } = scope;
  if (refs.length !== 1 && refs.length !== channels.length) {
    const each = channels.length === 1 ? 'one designator' : `one designator, or one for each of ${channels.join(', ')}`;
    report('channel-mismatch', [], 'key', `${refs.length} designators for ${channels.length} channels; write ${each}`);
    return outcome([]);
  }
  const parts = refs.flatMap((ref, index) => {
    const channel = refs.length === channels.length ? (channels[index] ?? null) : null;
    const nodeAt: NodeAt = (written, below) => {
      const reading = fullNode(written, channel, scope);
      if (reading.ok) return reading.node;
      report(reading.code, below, 'value', reading.message);
      return written;
    };
    const place = scope.placeOf(at, 'key');
    const common = { ref, position: ref, channel, place, ...stated({ seat: entry.seat, body: entry.body }) };
    const part = partOf(common, entry, scope, nodeAt, report);
    if (part === null) return [];
    const nodes = new Set(Object.values(leadsOf(part)));
    if (nodes.size === 1) {
      const [node = ''] = nodes;
      const name = node.split('@')[0] ?? '';
      report('leads-on-one-node', [], 'key', `every lead stands on ${name}; write the node each lead is joined to`);
    }
    return [{ ...part, channel: channel ?? onlyChannel(nodes) }];
  });
  return outcome(parts);
}

function partOf(
  common: PartCommon,
  entry: PartEntry,
  scope: ExpansionScope,
  nodeAt: NodeAt,
  report: Report,
): Part | null {
  if ('type' in entry) return expandTyped(common, entry, scope.types, nodeAt, report);
  const valued = { ...common, ...('tolerance' in entry ? stated({ tolerance: entry.tolerance }) : {}) };
  const pair = (written: readonly string[]): readonly [NodeName, NodeName] => [
    nodeAt(written[0] ?? '', ['between', 0]),
    nodeAt(written[1] ?? '', ['between', 1]),
  ];
  switch (entry.kind) {
    case 'resistor':
      return {
        ...valued,
        kind: 'resistor',
        ohms: entry.value,
        between: pair(entry.between),
        ...stated({ build: entry.build, rated: entry.rated, noiseIndex: entry.noise_index }),
      };
    case 'capacitor':
      return capacitorOf(valued, entry, pair, nodeAt, report);
    case 'inductor':
      return {
        ...valued,
        kind: 'inductor',
        henries: entry.value,
        ohms: entry.resistance ?? 0,
        between: pair(entry.between),
      };
    case 'trimmer':
      return {
        ...valued,
        kind: 'trimmer',
        ohms: entry.value,
        turn: entry.turn,
        between: pair(entry.between),
        ...stated({
          rated: entry.rated,
          wiper: entry.wiper === undefined ? undefined : nodeAt(entry.wiper, ['wiper']),
        }),
      };
    case 'switch': {
      const positions = Object.entries(entry.positions).map(
        ([name, node]) => [name, nodeAt(node, ['positions', name])] as const,
      );
      return {
        ...common,
        kind: 'switch',
        pole: nodeAt(entry.pole, ['pole']),
        positions: Object.fromEntries(positions),
        at: entry.at,
      };
    }
  }
}

function capacitorOf(
  common: PartCommon,
  entry: CapacitorEntry,
  pair: (written: readonly string[]) => readonly [NodeName, NodeName],
  nodeAt: NodeAt,
  report: Report,
): Part {
  const { plus = '', minus = '', between, leakage, rated } = entry;
  const [first, second] = between === undefined ? [nodeAt(plus, ['plus']), nodeAt(minus, ['minus'])] : pair(between);
  const ohms = leakage === undefined ? undefined : leakageOhms(leakage, rated);
  if (ohms === null) {
    report(
      'missing-key',
      ['leakage'],
      'value',
      'a leakage current is one at the rated volts; write rated, or leakage in Ω',
    );
  }
  return {
    ...common,
    kind: 'capacitor',
    farads: entry.value,
    plus: first,
    minus: second,
    polarised: between === undefined,
    ...stated({
      build: entry.build,
      rated,
      esr: entry.esr?.value,
      esrAt: entry.esr?.at,
      leakage: ohms ?? undefined,
      loss: entry.loss,
      rippleCurrent: entry.ripple_current,
    }),
  };
}

/** The one channel among the nodes of a part that exists once; null where there is none or more than one. */
function onlyChannel(nodes: ReadonlySet<NodeName>): string | null {
  const channels = new Set([...nodes].flatMap((node) => node.split('@').slice(1)));
  const [channel] = channels;
  return channels.size === 1 && channel !== undefined ? channel : null;
}
