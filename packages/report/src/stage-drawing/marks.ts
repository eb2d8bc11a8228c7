import type { NodeName } from '@curvewright/board';
import { textAt } from './captions.ts';
import type { Box, Mark, Spot, Text } from './scene.ts';

/** The room that a mark takes at 0, 0: on the far side of its bar, too, no wire may end. */
export function markBoxes(kind: Mark['kind'], node: NodeName): readonly Box[] {
  const { body, text } = markShape(kind, node, { x: 0, y: 0 });
  const far =
    kind === 'rail above' ? { ...body, top: body.top - beyondBar } : { ...body, bottom: body.bottom + beyondBar };
  return [far, ...(text === null ? [] : [text.box])];
}

/** Squares. */
const beyondBar = 0.5;

/** `out@left` as `out`. */
export function bareNode(node: NodeName): string {
  return node.split('@')[0] ?? node;
}

/** What a mark covers, and its name; common has none. */
export function markShape(
  kind: Mark['kind'],
  node: NodeName,
  at: Spot,
): { readonly body: Box; readonly text: Text | null } {
  const { x, y } = at;
  const named = (dx: number, dy: number, anchor: Text['anchor']): Text =>
    textAt(bareNode(node), { x: x + dx, y: y + dy }, anchor, 'node', node);
  switch (kind) {
    case 'common':
      return { body: { left: x - 1, right: x + 1, top: y + 0.2, bottom: y + 1 }, text: null };
    case 'rail above':
      return { body: { left: x - 1, right: x + 1, top: y - 1, bottom: y - 0.2 }, text: named(0, -1.4, 'middle') };
    case 'rail below':
      return { body: { left: x - 1, right: x + 1, top: y + 0.2, bottom: y + 1 }, text: named(0, 2.1, 'middle') };
    case 'input':
      return { body: { left: x - 1, right: x - 0.1, top: y - 0.4, bottom: y + 0.4 }, text: named(-1.3, 0.35, 'end') };
    case 'output':
      return { body: { left: x + 0.1, right: x + 1, top: y - 0.4, bottom: y + 0.4 }, text: named(1.3, 0.35, 'start') };
  }
}
