import type { Unit } from '@curvewright/quantity';
import type { Part, TypedPart } from '../circuit.ts';
import type { PartType } from '../part-type.ts';
import { withValue } from '../part-value.ts';
import type { CellReaders, CellReading } from './cell-readers.ts';

/** What was read on a piece, by the name of its column, in SI units. */
export type PieceFigures = Readonly<Partial<Record<string, number>>>;

interface PieceColumn {
  readonly name: string;
  readonly example: string;
  readonly read: (text: string, readers: CellReaders) => CellReading<number>;
}

/** The columns that say something of a piece in the place of this part; none for a switch, an op-amp or a zener diode. */
export function pieceColumns(part: Part): readonly PieceColumn[] {
  switch (part.kind) {
    case 'resistor':
    case 'trimmer':
      return [quantity('value', 'Ω', '4.7 kΩ')];
    case 'inductor':
      return [quantity('value', 'H', '10 mH')];
    case 'capacitor':
      return [
        quantity('value', 'F', '0.68 µF'),
        quantity('esr', 'Ω', '1.2 Ω'),
        quantity('leakage', 'Ω', '20 MΩ'),
        { name: 'loss', example: '0.04', read: (text, readers) => readers.number(text, '0.04') },
      ];
    case 'switch':
      return [];
    case 'typed':
      return typeColumns(part.type.kind);
  }
}

function typeColumns(kind: PartType['kind']): readonly PieceColumn[] {
  switch (kind) {
    case 'npn':
    case 'pnp':
      return [ratio('hfe', '320'), quantity('vbe', 'V', '612 mV'), quantity('vbe_at', 'A', '1 mA')];
    case 'diode':
      return [quantity('vf', 'V', '0.63 V'), quantity('vf_at', 'A', '1 mA')];
    case 'jfet-n':
    case 'jfet-p':
      return [quantity('idss', 'A', '6 mA'), magnitude('vgs_off', 'V', '-1 V')];
    case 'triode':
      return [ratio('mu', '100'), quantity('rp', 'Ω', '62.5 kΩ')];
    case 'zener':
    case 'opamp':
      return [];
  }
}

function quantity(name: string, unit: Unit, example: string): PieceColumn {
  return { name, example, read: (text, readers) => readers.quantity(text, unit) };
}

/** A cut-off voltage carries the sign of its channel, which the type knows already. */
function magnitude(name: string, unit: Unit, example: string): PieceColumn {
  return { name, example, read: (text, readers) => readers.quantity(text.replace(/^[-−]\s*/, ''), unit) };
}

function ratio(name: string, example: string): PieceColumn {
  return {
    name,
    example,
    read(text, readers) {
      const reading = readers.number(text, example);
      if (!reading.ok || reading.value > 0) return reading;
      return {
        ok: false,
        code: 'out-of-range',
        message: `${text} cannot be; write a value above 0, such as ${example}`,
      };
    },
  };
}

/** The part as this piece: what was read on it in place of what is known of its make. A reading of hFE holds at every current, as in a job. */
export function withFigures(part: Part, figures: PieceFigures): Part {
  const { value, esr, leakage, loss } = figures;
  const valued = value === undefined ? part : withValue(part, value);
  switch (valued.kind) {
    case 'capacitor': {
      // The frequency of an ESR belongs to the reading it came with.
      const { esrAt: _, ...rest } = valued;
      return {
        ...(esr === undefined ? valued : { ...rest, esr }),
        ...(leakage === undefined ? {} : { leakage }),
        ...(loss === undefined ? {} : { loss }),
      };
    }
    case 'typed':
      return { ...valued, type: typeWith(valued.type, figures) } satisfies TypedPart;
    case 'resistor':
    case 'trimmer':
    case 'inductor':
    case 'switch':
      return valued;
  }
}

function typeWith(type: PartType, { hfe, vbe, vbe_at, vf, vf_at, idss, vgs_off, mu, rp }: PieceFigures): PartType {
  switch (type.kind) {
    case 'npn':
    case 'pnp':
      return {
        ...type,
        ...(hfe === undefined ? {} : { hFE: [{ value: hfe, at: 0 }] }),
        ...(vbe === undefined || vbe_at === undefined ? {} : { VBE: { value: vbe, at: vbe_at } }),
      };
    case 'diode': {
      if (vf === undefined || vf_at === undefined) return type;
      const [first, second] = type.VF;
      const slope =
        first === undefined || second === undefined
          ? undefined
          : (second.value - first.value) / Math.log(second.at / first.at);
      // The steepness of the make, through the reading.
      return {
        ...type,
        VF: [
          { value: vf, at: vf_at },
          ...(slope === undefined ? [] : [{ value: vf + slope * Math.LN10, at: 10 * vf_at }]),
        ],
      };
    }
    case 'jfet-n':
    case 'jfet-p':
      return {
        ...type,
        ...(idss === undefined ? {} : { IDSS: idss }),
        ...(vgs_off === undefined ? {} : { pinchOff: vgs_off }),
      };
    case 'triode':
      return { ...type, ...(mu === undefined ? {} : { mu }), ...(rp === undefined ? {} : { rp }) };
    case 'zener':
    case 'opamp':
      return type;
  }
}
