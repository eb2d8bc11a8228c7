import type { Circuit, Part, PartType } from '@curvewright/board';
import type { IdealFigure } from './ideal-figures.ts';

/** Figures of noise that a file leaves out, with the parts it leaves them out for: these parts are computed quieter than they are. */
export function silentNoiseFigures(circuit: Circuit): readonly IdealFigure[] {
  const silent = new Map<string, string[]>();
  for (const part of circuit.parts) {
    for (const figure of silentIn(part)) silent.set(figure, [...(silent.get(figure) ?? []), part.ref]);
  }
  return [...silent].map(([figure, refs]) => ({ figure, refs }));
}

function silentIn(part: Part): readonly string[] {
  if (part.kind === 'resistor') return part.noiseIndex === undefined ? ['no excess noise'] : [];
  return part.kind === 'typed' ? silentInType(part.type) : [];
}

function silentInType(type: PartType): readonly string[] {
  switch (type.kind) {
    case 'npn':
    case 'pnp':
      return [
        ...(type.rbb === undefined ? ['no rbb'] : []),
        ...(type.noiseCorner === undefined ? ['no 1/f noise'] : []),
      ];
    case 'opamp':
      return [
        ...(type.en === undefined ? ['no en'] : type.enCorner === undefined ? ['no 1/f noise of en'] : []),
        ...(type.in === undefined ? ['no in'] : type.inCorner === undefined ? ['no 1/f noise of in'] : []),
      ];
    case 'jfet-n':
    case 'jfet-p':
      return [
        ...(type.en === undefined ? ['en as the channel alone makes it'] : []),
        ...(type.enCorner === undefined ? ['no 1/f noise'] : []),
      ];
    case 'triode':
      return [
        ...(type.en === undefined ? ['en of the anode current alone'] : []),
        // A triode's figures hold no corner.
        'no 1/f noise',
      ];
    case 'diode':
      return ['no 1/f noise'];
    case 'zener':
      return ['no avalanche noise'];
  }
}
