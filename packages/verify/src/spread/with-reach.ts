import type { Board } from '@curvewright/board';
import type { Probe } from '../figure.ts';
import { nodeReach } from './node-bands.ts';

/** The drawn board with how far the bias of its nodes strays on healthy ones, which other states are held against. */
export function withReach(drawn: Probe, { matched }: Board): Probe {
  return { ...drawn, nodeReach: nodeReach(drawn.stage, matched) };
}
