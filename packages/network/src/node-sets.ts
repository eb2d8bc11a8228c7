import type { NodeName } from '@curvewright/board';

/** Nodes gathered into sets, each node at first a set of its own. */
export interface NodeSets {
  /** The node that stands for the whole set. */
  find(node: NodeName): NodeName;
  /** Makes one set of two; false where they already were one. */
  join(a: NodeName, b: NodeName): boolean;
}

/** Disjoint sets with path halving (R. E. Tarjan & J. van Leeuwen, Journal of the ACM 31, 1984). */
export function createSets(): NodeSets {
  const parent = new Map<NodeName, NodeName>();
  const find = (node: NodeName): NodeName => {
    let at = node;
    for (;;) {
      const up = parent.get(at) ?? at;
      if (up === at) return at;
      const above = parent.get(up) ?? up;
      parent.set(at, above);
      at = above;
    }
  };
  return {
    find,
    join(a, b) {
      const [rootA, rootB] = [find(a), find(b)];
      if (rootA === rootB) return false;
      parent.set(rootA, rootB);
      return true;
    },
  };
}
