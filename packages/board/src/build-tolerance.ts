import type { Part } from './circuit.ts';

/** Fractions of the value, both positive. */
interface Tolerance {
  readonly minus: number;
  readonly plus: number;
}

const either = (fraction: number): Tolerance => ({ minus: fraction, plus: fraction });

/** What a part of a build may be off by where its file is silent: common practice, no source. */
const byBuild: Readonly<Record<string, Tolerance>> = {
  film: either(0.1),
  polystyrene: either(0.05),
  mica: either(0.05),
  ceramic1: either(0.1),
  ceramic2: either(0.2),
  aluminium: either(0.2),
  aluminium_bipolar: either(0.2),
  tantalum: either(0.2),
  carbon_composition: either(0.1),
  carbon_film: either(0.05),
  metal_film: either(0.01),
  wirewound: either(0.05),
};

/**
 * How far a healthy part's main value may be off: what the file states, else what its build usually keeps. Null for a part that says
 * neither, which is then taken as exact, and for one without a value.
 */
export function toleranceOf(part: Part): { readonly tolerance: Tolerance; readonly stated: boolean } | null {
  if (part.tolerance !== undefined) return { tolerance: part.tolerance, stated: true };
  const build = part.kind === 'resistor' || part.kind === 'capacitor' ? part.build : undefined;
  const usual = build === undefined ? undefined : byBuild[build];
  return usual === undefined ? null : { tolerance: usual, stated: false };
}
