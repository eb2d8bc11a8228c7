import { circuitWithValue, type Capacitor } from '@curvewright/board';
import { nodeVolts } from '@curvewright/network';
import { printQuantity } from '@curvewright/quantity';
import { gainReader, type GainReader } from '../gain-reader.ts';
import { sheetFrequencies } from '../stage-sheet.ts';
import { varyStage } from '../stage.ts';
import { ofPart, type FitContext, type FitRow } from './fit-row.ts';

/** Hz between which a capacitor in the signal path is heard. */
const [lowest, highest] = [20, 20_000];

/** dB anywhere in between that a capacitor in the signal path moves when it is as good as out, or as good as short, for the signal. */
const heard = 1;

/** Factors of the value that stand for out and for short. */
const extremes = [1e-6, 1e6];

/** A class 2 ceramic in the signal path; nothing for one that only decouples. */
export function ceramicRow(part: Capacitor, { stage }: FitContext): readonly FitRow[] {
  if (part.build !== 'ceramic2') return [];
  const before = levels(gainReader(stage), stage.circuit.channels.length);
  const moves = extremes.some((factor) => {
    const varied = varyStage(stage, circuitWithValue(stage.circuit, part.ref, part.farads * factor));
    if (varied === null) return true;
    const after = levels(gainReader(varied), varied.circuit.channels.length);
    return after.some((db, n) => !(Math.abs(db - before[n]!) <= heard));
  });
  if (!moves) return [];
  const { network, point } = stage;
  const volts = Math.abs(nodeVolts(network, point, part.plus) - nodeVolts(network, point, part.minus));
  return [
    {
      ...{ what: 'ceramic', ...ofPart(part), level: 'look', where: 'in the signal path', value: volts, margin: -volts },
      ...{ unit: 'V', bound: 'no class 2 ceramic' },
      cause: `${part.ref} is a class 2 ceramic with ${printQuantity(volts, 'V')} across it: its value falls with the voltage, and it is microphonic`,
      next: `choose film or class 1 ceramic at ${part.position}`,
    },
  ];
}

function levels(reader: GainReader, channels: number): readonly number[] {
  const band = sheetFrequencies.filter((hz) => hz >= lowest && hz <= highest);
  return Array.from({ length: channels }, (_, channel) => band.map((hz) => reader.gainDb(channel, hz))).flat();
}
