import { leadsOf, type Circuit, type Part } from '@curvewright/board';

/**
 * Whether a channel's output node stands behind a coupling capacitor: what resistors, coils and contacts join to it reaches neither a
 * rail nor a device, and a capacitor leads on to the rest of the stage. A direct-coupled output has the DC that its drawing gives it.
 */
export function isCapacitorCoupled(circuit: Circuit, output: string): boolean {
  const joined = joinedByOhms(circuit, output);
  const rails = circuit.rails.map(({ node }) => node);
  const touches = (part: Part): boolean => Object.values(leadsOf(part)).some((node) => joined.has(node));
  const driven = circuit.parts.some((part) => part.kind === 'typed' && touches(part));
  if (driven || rails.some((node) => joined.has(node))) return false;
  return circuit.parts.some(
    (part) =>
      part.kind === 'capacitor' &&
      joined.has(part.plus) !== joined.has(part.minus) &&
      part.plus !== 'gnd' &&
      part.minus !== 'gnd',
  );
}

/** The nodes that have a path of resistance to `from` without passing gnd. */
function joinedByOhms(circuit: Circuit, from: string): ReadonlySet<string> {
  const joined = new Set([from]);
  for (let before = 0; before < joined.size;) {
    before = joined.size;
    for (const part of circuit.parts) {
      if (part.kind === 'capacitor' || part.kind === 'typed') continue;
      const nodes = conducting(part).filter((node) => node !== 'gnd');
      if (nodes.some((node) => joined.has(node))) nodes.forEach((node) => joined.add(node));
    }
  }
  return joined;
}

/** Of a switch only the contact that is made. */
function conducting(part: Part): readonly string[] {
  if (part.kind !== 'switch') return Object.values(leadsOf(part));
  const made = part.positions[part.at];
  return made === undefined ? [part.pole] : [part.pole, made];
}
