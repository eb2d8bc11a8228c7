import { agePart, leadsOf, twoLeads, type Fault } from '@curvewright/board';
import { inspectCircuit } from '@curvewright/network';
import { mainValue } from '../part-value.ts';
import { sure, type Maker } from './fault-makers.ts';
import type { Hypothesis } from './hypothesis.ts';

/** A two-lead part is open alike by itself, at either joint and by a crack at either lead. */
export function ends(maker: Maker): readonly Hypothesis[] {
  const { circuit, part } = maker;
  const [lead = ''] = Object.keys(leadsOf(part));
  // Gone altogether it may leave a grid on no node at all; with one lead off, the grid keeps its own.
  const hangs = inspectCircuit(agePart(circuit, part.ref, { kind: 'open' })).length > 0;
  const fault: Fault = hangs ? { kind: 'open_joint', lead } : { kind: 'open' };
  const open = sure(maker, 'open', 'open circuit, or a joint of it', '', fault);
  if (twoLeads(part) === null) return [open];
  const short = sure(maker, 'short', 'short circuit', '', { kind: 'short' });
  // A part without ohms is a link already.
  return mainValue(part) === 0 ? [open] : [open, short];
}
