import type { Circuit, Part, PartType } from '@curvewright/board';

/** A figure that shapes bias or response, on which the file is silent for these parts: they are computed as ideal there. */
export interface IdealFigure {
  readonly figure: string;
  readonly refs: readonly string[];
}

export function idealFigures(circuit: Circuit): readonly IdealFigure[] {
  const silent = new Map<string, string[]>();
  for (const part of circuit.parts) {
    for (const figure of silentFigures(part)) {
      const refs = silent.get(figure);
      if (refs) refs.push(part.ref);
      else silent.set(figure, [part.ref]);
    }
  }
  return [...silent].map(([figure, refs]) => ({ figure, refs }));
}

function silentFigures(part: Part): readonly string[] {
  switch (part.kind) {
    case 'capacitor':
      return absent({
        'no leakage': part.leakage,
        'no ESR': part.esr,
        'no dielectric loss': part.loss,
      });
    case 'typed':
      return silentTypeFigures(part.type, part.rails !== undefined);
    case 'resistor':
    case 'inductor':
    case 'trimmer':
    case 'switch':
      return [];
  }
}

function silentTypeFigures(type: PartType, hasRails: boolean): readonly string[] {
  switch (type.kind) {
    case 'npn':
    case 'pnp':
      return [
        ...absent({
          'no Early effect': type.earlyVoltage,
          'no fT: no storage time': type.fT,
          'no Cob': type.Cob,
          'no rbb': type.rbb,
        }),
        ...(type.fT !== undefined && type.fT.at === undefined
          ? ['fT taken at the solved current: flattering when low']
          : []),
      ];
    case 'opamp':
      return [
        ...absent({ 'infinite gain': type.gain, 'infinite GBW': type.GBW, 'no Rout': type.Rout }),
        ...(hasRails ? absent({ 'swings to its rails': type.swing }) : ['no output limits']),
      ];
    case 'jfet-n':
    case 'jfet-p':
      return absent({ 'no yos': type.yos, 'no Crss': type.Crss, 'no Ciss': type.Ciss });
    case 'triode':
      return absent({ 'no Cag': type.Cag, 'no Cgk': type.Cgk });
    case 'zener':
      return absent({ 'no rz': type.rz, 'forward drop 0.7 V at 10 mA': type.VF });
    case 'diode':
      return [];
  }
}

function absent(figures: Readonly<Record<string, unknown>>): readonly string[] {
  return Object.entries(figures)
    .filter(([, value]) => value === undefined)
    .map(([figure]) => figure);
}
