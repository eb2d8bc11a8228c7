import { leadsOf, type Circuit, type Part } from '@curvewright/board';

/**
 * The parts of a kind on nodes of these parts that belong to one channel: the resistors there set bias and load, the capacitors the speed.
 * What stands on a rail or on a node of both channels stands beside every part.
 */
export function neighboursOf(circuit: Circuit, refs: readonly string[], kind: Part['kind']): readonly string[] {
  const shared = new Set(['gnd', ...circuit.common, ...circuit.rails.map(({ node }) => node)]);
  const nodesOf = (part: Part): readonly string[] => Object.values(leadsOf(part)).filter((node) => !shared.has(node));
  const nodes = new Set(circuit.parts.filter(({ ref }) => refs.includes(ref)).flatMap(nodesOf));
  const beside = circuit.parts.filter((part) => part.kind === kind && nodesOf(part).some((node) => nodes.has(node)));
  return beside.map(({ ref }) => ref);
}
