import type { NodeName } from '@curvewright/board';
import type { ChannelNet } from './channel-net.ts';
import type { PathStep } from './signal-path.ts';
import type { Piece } from './piece.ts';

/** Which way a branch leaves its node: towards common and the rails below, or towards the rails above. */
export type Way = 'down' | 'up';

/** How what is not on the way of the signal hangs together. */
export interface Branches {
  /** Nodes with an active part's lead, on the way of the signal, or at a terminal: they have a place of their own. */
  readonly anchored: ReadonlySet<NodeName>;
  /** A node of passive parts only, that leads to common or a rail: the anchored node it hangs from, and which way. */
  readonly homes: ReadonlyMap<NodeName, { readonly root: NodeName; readonly way: Way }>;
}

export function isTwoLead(piece: Piece): boolean {
  return piece.leads.length === 2 && piece.kind !== 'switch';
}

/** The node at the other lead of a part with two. */
export function beyond({ leads }: Piece, node: NodeName): NodeName {
  return (leads[0]?.node === node ? leads[1]?.node : leads[0]?.node) ?? node;
}

/** Whether a part has leads on both nodes. */
export function joins({ leads }: Piece, a: NodeName, b: NodeName): boolean {
  return leads.some(({ node }) => node === a) && leads.some(({ node }) => node === b);
}

export function branchesOf(net: ChannelNet, path: readonly PathStep[]): Branches {
  const onPath = path.map(({ node }) => node);
  const anchored = new Set([
    ...onPath,
    net.input,
    net.output,
    ...net.pieces.filter((piece) => !isTwoLead(piece)).flatMap(({ leads }) => leads.map(({ node }) => node)),
  ]);
  const isFree = (node: NodeName): boolean => net.role(node) === 'signal' && !anchored.has(node);
  const joins = new Map<NodeName, Piece[]>();
  for (const piece of net.pieces.filter(isTwoLead)) {
    for (const { node } of piece.leads) joins.set(node, [...(joins.get(node) ?? []), piece]);
  }
  const homes = new Map<NodeName, { readonly root: NodeName; readonly way: Way }>();
  const seen = new Set<NodeName>();
  for (const start of [...joins.keys()].filter(isFree)) {
    if (seen.has(start)) continue;
    const members = [start];
    const ends = new Set<NodeName>();
    seen.add(start);
    for (const node of members) {
      for (const piece of joins.get(node) ?? []) {
        const other = beyond(piece, node);
        if (!isFree(other)) ends.add(other);
        else if (!seen.has(other)) members.push(other);
        seen.add(other);
      }
    }
    const roles = [...ends].map(net.role);
    const roots = [...ends].filter((node) => net.role(node) === 'signal');
    const root =
      roots.find((node) => !onPath.includes(node)) ??
      roots.toSorted((a, b) => onPath.indexOf(a) - onPath.indexOf(b))[0];
    const leadsDown = roles.includes('common') || roles.includes('rail below');
    if (root === undefined || (!leadsDown && !roles.includes('rail above'))) continue;
    for (const node of members) homes.set(node, { root, way: leadsDown ? 'down' : 'up' });
  }
  return { anchored, homes };
}
