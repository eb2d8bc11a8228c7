import type { Circuit, Part } from '@curvewright/board';
import { bareName } from '../node-volts.ts';

/** A node as the bench says it beside a part of a channel; a lead behind a bad joint by the node that it belongs to. */
export function spelled(node: string, { channel }: Part, { parts }: Circuit): string {
  const joint = parts.find((each) => each.kind === 'resistor' && each.ref === bareName(node));
  const pad = joint?.kind === 'resistor' ? joint.between[0] : node;
  return channel !== null && pad.endsWith(`@${channel}`) ? bareName(pad) : pad;
}
