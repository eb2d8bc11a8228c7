import type { Circuit, Part } from '@curvewright/board';
import { typeParameters } from './type-parameters.ts';

/** One value or figure of a circuit under the file's key, and the circuit with it times a factor. */
export interface CircuitParameter {
  /** A designator; a rail's node; `load@left`. */
  readonly ref: string;
  /** `value`, `esr`, `hFE`, …; `volts` and `resistance` of a rail. */
  readonly parameter: string;
  /** SI, never 0. */
  readonly nominal: number;
  readonly times: (circuit: Circuit, factor: number) => Circuit;
}

/** A part, a rail or a load standing alone, between nodes named as in the whole circuit. */
export interface LonePart {
  readonly ref: string;
  readonly alone: Circuit;
  readonly parameters: readonly CircuitParameter[];
}

/** Everything a circuit consists of: its parts in their order, its rails, its loads. What is 0 or silent is no parameter. */
export function loneParts(circuit: Circuit): readonly LonePart[] {
  const nothing: Circuit = { ...circuit, channels: [], rails: [], common: [], parts: [] };
  return [
    ...circuit.parts.map((part) => ({
      ref: part.ref,
      alone: { ...nothing, parts: [part] },
      parameters: partParameters(part).map(({ parameter, nominal, times }): CircuitParameter => ({
        ref: part.ref,
        parameter,
        nominal,
        times: (whole, factor) => ({
          ...whole,
          parts: whole.parts.map((each) => (each.ref === part.ref ? times(factor) : each)),
        }),
      })),
    })),
    ...circuit.rails.map((rail) => ({
      ref: rail.node,
      alone: { ...nothing, rails: [rail] },
      parameters: (['volts', 'resistance'] as const).flatMap((key): CircuitParameter[] => {
        const times = (whole: Circuit, factor: number): Circuit => ({
          ...whole,
          rails: whole.rails.map((each) => (each.node === rail.node ? { ...each, [key]: rail[key] * factor } : each)),
        });
        return rail[key] === 0 ? [] : [{ ref: rail.node, parameter: key, nominal: rail[key], times }];
      }),
    })),
    ...circuit.channels.map((channel) => {
      const ref = `load@${channel.name}`;
      return {
        ref,
        alone: { ...nothing, channels: [channel] },
        parameters: (['resistance', 'capacitance'] as const).flatMap((key): CircuitParameter[] => {
          const nominal = channel.load[key] ?? 0;
          const times = (whole: Circuit, factor: number): Circuit => ({
            ...whole,
            channels: whole.channels.map((each) =>
              each.name === channel.name ? { ...each, load: { ...each.load, [key]: nominal * factor } } : each,
            ),
          });
          return nominal === 0 ? [] : [{ ref, parameter: key, nominal, times }];
        }),
      };
    }),
  ];
}

interface PartParameter {
  readonly parameter: string;
  readonly nominal: number;
  readonly times: (factor: number) => Part;
}

function partParameters(part: Part): readonly PartParameter[] {
  switch (part.kind) {
    case 'resistor':
      return scaled(part, 'ohms', 'value');
    case 'capacitor':
      return [
        ...scaled(part, 'farads', 'value'),
        ...(['esr', 'leakage', 'loss'] as const).flatMap((key) => scaled(part, key, key)),
      ];
    case 'inductor':
      return [...scaled(part, 'henries', 'value'), ...scaled(part, 'ohms', 'resistance')];
    case 'trimmer': {
      // At an end of its travel one way is a link, and no share of nothing is a change of it.
      const travelled = part.turn > 0 && (part.turn < 1 || part.wiper === undefined);
      return [...scaled(part, 'ohms', 'value'), ...(travelled ? scaled(part, 'turn', 'turn') : [])];
    }
    case 'switch':
      return [];
    case 'typed':
      return typeParameters(part.type).map(({ parameter, nominal, times }) => ({
        parameter,
        nominal,
        times: (factor) => ({ ...part, type: times(factor) }),
      }));
  }
}

function scaled<P extends Part>(part: P, key: keyof P & string, parameter: string): readonly PartParameter[] {
  const nominal = part[key];
  if (typeof nominal !== 'number' || nominal === 0) return [];
  return [{ parameter, nominal, times: (factor) => ({ ...part, [key]: nominal * factor }) }];
}
