import { nodeVolts } from '@curvewright/network';
import { printQuantity } from '@curvewright/quantity';
import type { Stage } from '../stage.ts';

/** V across a capacitor, and J in it, from which it is named: common practice, no source. */
const [namedVolts, namedEnergy] = [25, 0.01];

/** V from which a board asks for more than the usual care: the limit of extra-low DC voltage in dry rooms, 60 V (IEC 61140, from memory). */
const highVolts = 60;

/** What to mind before the board is touched, with what stands on this one. */
export function cautions(stage: Stage): readonly string[] {
  const { circuit, network, point } = stage;
  const volts = (node: string): number => nodeVolts(network, point, node);
  const highest = [...network.nodes.keys()].reduce<{ node: string; volts: number }>(
    (most, node) => (Math.abs(volts(node)) > Math.abs(most.volts) ? { node, volts: volts(node) } : most),
    { node: 'gnd', volts: 0 },
  );
  const charged = circuit.parts.flatMap((part) => {
    if (part.kind !== 'capacitor') return [];
    const across = Math.abs(volts(part.plus) - volts(part.minus));
    const stores = across >= namedVolts && (part.farads * across ** 2) / 2 >= namedEnergy;
    return across >= highVolts || stores ? [`${part.ref} (${printQuantity(across, 'V', 2)})`] : [];
  });
  const hasValves = circuit.parts.some((part) => part.kind === 'typed' && part.type.kind === 'triode');
  const top = `${printQuantity(highest.volts, 'V', 2)} at ${highest.node}`;
  return [
    'Mains off, the plug out of the wall and in sight; mains wiring is for those licensed to do it.',
    charged.length === 0
      ? 'Discharge the reservoir capacitors of the supply through a resistor and prove them discharged with a meter.'
      : `Discharge the reservoir capacitors of the supply and ${charged.join(', ')} through a resistor and prove them discharged with a meter.`,
    ...(hasValves
      ? [
          `Valves: up to ${top}, lethal and there long after it is switched off. One hand, insulated probes; let the glass cool before a valve is pulled.`,
        ]
      : Math.abs(highest.volts) > highVolts
        ? [`Up to ${top}: one hand, insulated probes.`]
        : []),
    'Solder in moving air, away from the face; the old solder holds lead: wash hands before food.',
  ];
}
