import { leadsOf, twoLeads, type Circuit, type NodeName, type Part } from '@curvewright/board';

/**
 * Nodes that feed a stage and are drawn by their name, with the rail that each comes from: the rails, and what a resistor or choke
 * joins to one and a capacitor holds to common.
 */
export function supplyNodes(
  parts: readonly Part[],
  { rails, common, channels }: Circuit,
): ReadonlyMap<NodeName, NodeName> {
  const supplies = new Map<NodeName, NodeName>(rails.map(({ node }) => [node, node]));
  const active = new Set([...parts.flatMap(activeNodes), ...channels.flatMap(({ input, output }) => [input, output])]);
  const held = new Set(parts.flatMap((part) => (part.kind === 'capacitor' ? decoupled(part.plus, part.minus) : [])));
  for (let before = 0; before < supplies.size;) {
    before = supplies.size;
    for (const part of parts) {
      if (part.kind !== 'resistor' && part.kind !== 'inductor') continue;
      const [first, second] = twoLeads(part) ?? [];
      for (const [from, to] of [
        [first, second],
        [second, first],
      ]) {
        if (from === undefined || to === undefined || to === 'gnd' || supplies.has(to)) continue;
        const rail = supplies.get(from);
        const isFed = held.has(to) && (common.includes(to) || !active.has(to));
        if (rail !== undefined && isFed) supplies.set(to, rail);
      }
    }
  }
  return supplies;
}

function decoupled(plus: NodeName, minus: NodeName): readonly NodeName[] {
  if (minus === 'gnd') return [plus];
  return plus === 'gnd' ? [minus] : [];
}

function activeNodes(part: Part): readonly NodeName[] {
  const isActive = part.kind === 'typed' && part.type.kind !== 'diode' && part.type.kind !== 'zener';
  return isActive ? Object.values(leadsOf(part)) : [];
}
