import type { Circuit, Part } from '@curvewright/board';
import type { LooseValue } from '@curvewright/network';
import { ownTolerance } from '../own-tolerance.ts';

/** Values that differ from one healthy board to the next; all of one group move together. */
export interface LooseGroup {
  /** What draws alike: a designator, or those of a matched group or a package, and the parameter. */
  readonly name: string;
  /** Places in `LooseSpread.values`. */
  readonly members: readonly number[];
  /** Mean and standard deviation of ln(value/nominal). */
  readonly mean: number;
  readonly sigma: number;
}

export interface LooseSpread {
  readonly values: readonly LooseValue[];
  readonly groups: readonly LooseGroup[];
}

/** How far figures stray on which no file says anything, standard deviation of their logarithm: common practice, no source. */
const usualSigma: Readonly<Record<string, number>> = {
  VBE: 0.02,
  VF: 0.03,
  VZ: 0.03,
  hFE: 0.35,
  IDSS: 0.2,
  VGS_off: 0.15,
  mu: 0.05,
  Ia: 0.1,
  leakage: 0.7,
};

/** Of a rail that is not measured: common practice for a plain supply, no source. */
const railSigma = 0.03;

/** Every loose value of a circuit whose parts are healthy. `matched` are groups of designators that draw alike. */
export function looseSpread(circuit: Circuit, matched: readonly (readonly string[])[]): LooseSpread {
  const values: LooseValue[] = [];
  const groups = new Map<string, { members: number[]; mean: number; sigma: number }>();
  const add = (name: string, value: LooseValue, mean: number, sigma: number): void => {
    if (sigma === 0) return;
    const key = `${name} ${value.parameter}`;
    const group = groups.get(key) ?? { members: [], mean, sigma };
    groups.set(key, group);
    group.members.push(values.push(value) - 1);
  };
  for (const part of circuit.parts) {
    for (const parameter of looseParameters(part)) {
      const { mean, sigma } = logSpread(part, parameter);
      add(drawName(part, matched), { ref: part.ref, parameter }, mean, sigma);
    }
  }
  for (const { node, volts } of circuit.rails) {
    if (volts !== 0) add(node, { ref: node, parameter: 'volts' }, 0, railSigma);
  }
  return { values, groups: [...groups].map(([name, group]) => ({ name, ...group })) };
}

function looseParameters(part: Part): readonly string[] {
  switch (part.kind) {
    case 'resistor':
    case 'trimmer':
      return ['value'];
    case 'capacitor':
      return part.leakage === undefined ? ['value'] : ['value', 'leakage'];
    case 'inductor':
    case 'switch':
      return [];
    case 'typed':
      switch (part.type.kind) {
        case 'npn':
        case 'pnp':
          return ['hFE', 'VBE'];
        case 'diode':
          return ['VF'];
        case 'zener':
          return ['VZ'];
        case 'jfet-n':
        case 'jfet-p':
          return ['IDSS', 'VGS_off'];
        case 'triode':
          return ['mu', 'Ia'];
        case 'opamp':
          return [];
      }
  }
}

/** Uniform within a tolerance that the file or the build states, hFE between its ends; else as usual. */
function logSpread(part: Part, parameter: string): { readonly mean: number; readonly sigma: number } {
  const own = ownTolerance(part, parameter);
  if (own === null) return { mean: 0, sigma: usualSigma[parameter] ?? 0 };
  const [low, high] = [1 - own.minus, 1 + own.plus];
  if (!(low > 0) || high <= low) return { mean: 0, sigma: 0 };
  // ∫ ln u du = u ln u − u, ∫ ln² u du = u ln² u − 2u ln u + 2u
  const first = (u: number): number => u * Math.log(u) - u;
  const second = (u: number): number => u * Math.log(u) ** 2 - 2 * first(u);
  const mean = (first(high) - first(low)) / (high - low);
  const square = (second(high) - second(low)) / (high - low);
  return { mean, sigma: Math.sqrt(Math.max(0, square - mean ** 2)) };
}

/** What names the draw of a part: its matched group, its package (Q101A, Q101B), or itself. */
function drawName({ ref, position }: Part, matched: readonly (readonly string[])[]): string {
  const group = matched.find((refs) => refs.includes(position))?.join('/');
  const [, body] = /^([A-Z]+\d+)[A-Z]$/.exec(position) ?? [];
  return `${group ?? body ?? position}${ref.slice(position.length)}`;
}
