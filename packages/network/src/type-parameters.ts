import type { FigureAt, PartType } from '@curvewright/board';

/** A figure of a part type under the file's key, and the type with that figure times a factor. */
export interface TypeParameter {
  readonly parameter: string;
  /** SI; of several points the first. */
  readonly nominal: number;
  readonly times: (factor: number) => PartType;
}

/**
 * Every figure that a type states and that bias or response depend on, those of 0 left out. hFE and VF move at all their points together;
 * the currents and voltages at which figures were read stay, but for a triode's anode current, which says how strong it is.
 */
export function typeParameters(type: PartType): readonly TypeParameter[] {
  switch (type.kind) {
    case 'npn':
    case 'pnp':
      return [
        curve(type, 'hFE'),
        ...point(type, 'VBE'),
        ...plain(type, 'earlyVoltage', 'early_voltage'),
        ...point(type, 'fT'),
        ...(['Cob', 'Cib', 'rbb', 'VEBO', 'ICBO'] as const).flatMap((key) => plain(type, key)),
      ];
    case 'diode':
      return [curve(type, 'VF'), ...plain(type, 'ideality')];
    case 'zener':
      return [...point(type, 'VZ'), ...plain(type, 'rz'), ...(type.VF === undefined ? [] : [curve(type, 'VF')])];
    case 'opamp': {
      const { swing } = type;
      const stops = (['above', 'below'] as const).flatMap((stop): TypeParameter[] =>
        swing === undefined || swing[stop] === 0
          ? []
          : [
              {
                parameter: `swing.${stop}`,
                nominal: swing[stop],
                times: (factor) => ({ ...type, swing: { ...swing, [stop]: swing[stop] * factor } }),
              },
            ],
      );
      return [...(['gain', 'GBW', 'Rout', 'PSRR'] as const).flatMap((key) => plain(type, key)), ...stops];
    }
    case 'jfet-n':
    case 'jfet-p':
      return [
        ...plain(type, 'IDSS'),
        ...plain(type, 'pinchOff', 'VGS_off'),
        ...(['yos', 'Crss', 'Ciss'] as const).flatMap((key) => plain(type, key)),
      ];
    case 'triode':
      return [
        ...(['mu', 'rp'] as const).flatMap((key) => plain(type, key)),
        {
          parameter: 'Ia',
          nominal: type.at.Ia,
          times: (factor) => ({ ...type, at: { ...type.at, Ia: type.at.Ia * factor } }),
        },
        ...(['Cag', 'Cgk', 'Cak'] as const).flatMap((key) => plain(type, key)),
      ];
  }
}

type NumberKey<T> = keyof T & { [K in keyof T]-?: NonNullable<T[K]> extends number ? K & string : never }[keyof T];

/** A figure that is one number; none where the type is silent or says 0. */
function plain<T extends PartType>(type: T, key: NumberKey<T>, parameter: string = key): readonly TypeParameter[] {
  const nominal = type[key];
  if (typeof nominal !== 'number' || nominal === 0) return [];
  return [{ parameter, nominal, times: (factor) => ({ ...type, [key]: nominal * factor }) }];
}

/** A figure at a stated current. */
function point<T extends PartType, K extends string>(
  type: T & Partial<Readonly<Record<K, { readonly value: number }>>>,
  key: K,
): readonly TypeParameter[] {
  const stated = type[key];
  if (stated === undefined) return [];
  const times = (factor: number): T => ({ ...type, [key]: { ...stated, value: stated.value * factor } });
  return [{ parameter: key, nominal: stated.value, times }];
}

/** A figure at several currents. */
function curve<T extends PartType, K extends string>(
  type: T & Partial<Readonly<Record<K, readonly FigureAt[]>>>,
  key: K,
): TypeParameter {
  const points = type[key] ?? [];
  const times = (factor: number): T => ({
    ...type,
    [key]: points.map(({ value, at }) => ({ value: value * factor, at })),
  });
  return { parameter: key, nominal: points[0]?.value ?? 0, times };
}
