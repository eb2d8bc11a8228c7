import type { Part } from '@curvewright/board';

/** Two leads of a part whose voltage its ratings speak of. */
export interface WatchedPair {
  readonly ref: string;
  /** Lead minus lead: `plus-minus`, `base-emitter`. */
  readonly between: string;
  readonly nodes: readonly [string, string];
}

const junctions: Readonly<Record<string, readonly (readonly [string, string])[]>> = {
  npn: bipolar(),
  pnp: bipolar(),
  diode: [['anode', 'cathode']],
  zener: [['anode', 'cathode']],
  'jfet-n': fieldEffect(),
  'jfet-p': fieldEffect(),
  triode: [
    ['grid', 'cathode'],
    ['anode', 'cathode'],
  ],
};

/** Every capacitor and every junction of a circuit, in the order of its parts. */
export function watchedPairs(parts: readonly Part[]): readonly WatchedPair[] {
  return parts.flatMap((part): readonly WatchedPair[] => {
    if (part.kind === 'capacitor') return [{ ref: part.ref, between: 'plus-minus', nodes: [part.plus, part.minus] }];
    if (part.kind !== 'typed') return [];
    return (junctions[part.type.kind] ?? []).map(([first, second]) => ({
      ref: part.ref,
      between: `${first}-${second}`,
      nodes: [part.leads[first] ?? 'gnd', part.leads[second] ?? 'gnd'],
    }));
  });
}

function bipolar(): readonly (readonly [string, string])[] {
  return [
    ['base', 'emitter'],
    ['base', 'collector'],
    ['collector', 'emitter'],
  ];
}

function fieldEffect(): readonly (readonly [string, string])[] {
  return [
    ['gate', 'source'],
    ['gate', 'drain'],
    ['drain', 'source'],
  ];
}
