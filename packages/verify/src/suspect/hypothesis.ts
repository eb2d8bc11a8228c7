import type { Circuit, FaultKind, Part } from '@curvewright/board';

/** One thing that may be wrong with a board. */
export interface Hypothesis {
  /** The parts at fault, a rail's node for a supply; of a crack the parts beyond it. */
  readonly refs: readonly string[];
  readonly kind: FaultKind;
  /** What is wrong, without its value: `base-emitter junction open`. */
  readonly words: string;
  /** Of the cases' values; null where there is nothing to fit. */
  readonly unit: 'Ω' | 'F' | 'H' | 'A' | 'V' | 'Hz' | null;
  /** How likely it is before anything is measured, over the other hypotheses. */
  readonly weight: number;
  readonly runs: readonly Run[];
  /** Nothing holds a grid or a gate any more: what its channel's voltages are is anybody's guess. */
  readonly vague?: true;
  /** Names it by what stands where, the same for the twin in the other channel but for the channel's number. */
  readonly signature: string;
}

/** A fault over the values it may have; a second figure of the part makes further runs. */
export interface Run {
  /** In order; one null where there is nothing to fit. */
  readonly values: readonly (number | null)[];
  /** The circuit with the fault at a value, which may lie between those of the run. */
  readonly apply: (circuit: Circuit, value: number | null) => Circuit;
}

/** A part's place: its channel's number and its own within it; the designator of a shared part. */
export function placeToken(circuit: Circuit, part: Part): string {
  const channel = circuit.channels.findIndex(({ name }) => name === part.channel);
  if (channel < 0) return part.ref;
  const own = circuit.parts.filter((each) => each.channel === part.channel);
  return `<${channel}>${own.indexOf(part)}`;
}

/** The signature of the same fault in another channel. */
export function twinSignature(signature: string, from: number, to: number): string {
  return signature.replace(/<(\d+)>/g, (token, digits: string) => {
    const channel = Number(digits);
    return channel === from ? `<${to}>` : channel === to ? `<${from}>` : token;
  });
}
