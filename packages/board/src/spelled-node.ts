import type { NodeName } from './circuit.ts';

/** A node as the file spells it: without the channel `mono`, which a file of one channel never writes. */
export function spelledNode(node: NodeName): string {
  return node.replace(/@mono$/, '');
}
