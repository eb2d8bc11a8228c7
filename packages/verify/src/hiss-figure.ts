import type { Limits } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import { designatorsIn } from './designator.ts';
import type { Probe } from './figure.ts';
import type { FurtherReader } from './further-answers.ts';
import { toldFigure, type Kind, type ToldFigure } from './told-figure.ts';

const kind: Kind = { what: 'hiss', unit: 'µV', side: 'at most', dear: true, triesSwaps: true, scale: 1e6 };

/** Makers of hiss that are told, and asked for another value. */
const told = 3;

export function hissFigure(probe: Probe, further: FurtherReader, { hiss: limit }: Limits, channel: number): ToldFigure {
  const { shares, inputAWeightedUv } = further.noise(probe).channels[channel]!;
  const ranked = shares.toSorted((a, b) => b.aWeightedShare - a.aWeightedShare);
  const nameOf = (ref: string): string => designatorsIn(probe.stage, [ref])[0] ?? ref;
  const makers = ranked
    .slice(0, told)
    .map(({ ref, aWeightedShare }) => `${nameOf(ref)} makes ${printQuantity(aWeightedShare, '%', 2)}`);
  // A resistor's noise is that of its value; a transistor, valve or op-amp may be replaced by a quieter one.
  const kinds = new Map(probe.stage.circuit.parts.map(({ ref, kind: its }) => [ref, its]));
  const device = ranked.find(({ ref }) => kinds.get(ref) === 'typed');
  const without = Math.sqrt(Math.max(0, 1 - (device?.aWeightedShare ?? 0))) * inputAWeightedUv;
  return toldFigure(kind, channel, limit, probe, (other) => further.noise(other).channels[channel]!.inputAWeightedUv, {
    where: 'A-weighted, input shorted',
    named: ranked.map(({ ref }) => ref),
    asked: ranked.slice(0, told).map(({ ref }) => ref),
    cause: makers.join(', '),
    otherwise: device
      ? `try a quieter part at ${nameOf(device.ref)} (silent, it would leave ${without.toFixed(2)} µV)`
      : 'the hiss is that of the resistors',
  });
}
