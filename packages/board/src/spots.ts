import type { Channel, NodeName, Part } from './circuit.ts';
import type { DiagnosticCode } from './diagnostics.ts';
import { leadsOf } from './leads.ts';
import { nearest } from './nearest.ts';
import { shown } from './schema/fields.ts';

/** Where a probe may stand: the nodes of a circuit, and the leads of its parts as `Q101.collector`. */
export interface Spots {
  readonly nodes: ReadonlySet<NodeName>;
  /** Node by `REF.lead`. */
  readonly leads: ReadonlyMap<string, NodeName>;
  readonly channels: readonly string[];
}

export type SpotPair =
  | { readonly ok: true; readonly nodes: readonly [NodeName, NodeName] }
  | { readonly ok: false; readonly code: DiagnosticCode; readonly message: string };

type Spot = { readonly ok: true; readonly node: NodeName } | Extract<SpotPair, { ok: false }>;

/** The spots of these parts; where two parts carry one designator, the earlier one names the lead. */
export function spotsOf(parts: readonly Part[], shared: readonly NodeName[], channels: readonly Channel[]): Spots {
  const nodes = new Set<NodeName>(['gnd', ...shared]);
  const leads = new Map<string, NodeName>();
  for (const part of parts) {
    for (const [lead, node] of Object.entries(leadsOf(part))) {
      nodes.add(node);
      const name = `${part.ref}.${lead}`;
      if (!leads.has(name)) leads.set(name, node);
    }
  }
  return { nodes, leads, channels: channels.map((channel) => channel.name) };
}

/** The two nodes that a reading's name speaks of: a spot against `gnd`, or two spots with `-` between them. */
export function spotPair(name: string, spots: Spots): SpotPair {
  const whole = spot(name, spots);
  if (whole.ok) return { ok: true, nodes: [whole.node, 'gnd'] };
  let fault = whole;
  // The node inside a fitted string has a hyphen of its own, so that each hyphen may be the one between two spots.
  for (let at = name.indexOf('-'); at >= 0; at = name.indexOf('-', at + 1)) {
    const first = spot(name.slice(0, at).trim(), spots);
    const second = spot(name.slice(at + 1).trim(), spots);
    if (first.ok && second.ok) return { ok: true, nodes: [first.node, second.node] };
    if (!first.ok && !second.ok) continue;
    fault = first.ok ? (second as typeof fault) : first;
  }
  return fault;
}

function spot(name: string, { nodes, leads, channels }: Spots): Spot {
  const lead = leads.get(name);
  if (lead !== undefined) return { ok: true, node: lead };
  if (nodes.has(name)) return { ok: true, node: name };
  const perChannel = channels.map((channel) => `${name}@${channel}`).filter((node) => nodes.has(node));
  const [only, ...others] = perChannel;
  if (only !== undefined && channels.length === 1) return { ok: true, node: only };
  if (only !== undefined) {
    return {
      ok: false,
      code: 'bare-channel-node',
      message: `${name} stands in each channel; write ${[only, ...others].join(' or ')}`,
    };
  }
  const near = nearest(name, [...nodes, ...leads.keys()]);
  const offer = near === null ? 'write a node, or REF.lead as in Q101.collector' : `did you mean ${near}?`;
  return {
    ok: false,
    code: 'unknown-node',
    message: `${shown(name)} is neither a node nor a lead of this board; ${offer}`,
  };
}
