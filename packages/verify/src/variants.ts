import { circuitWithValue, type Circuit, type Part } from '@curvewright/board';
import type { Probe } from './figure.ts';
import { gainReader } from './gain-reader.ts';
import { mainValue, twinsOf } from './part-value.ts';
import { varyStage } from './stage.ts';

/** The factor by which a part's value is raised to see what it moves. */
const variation = 1.1;

/** Solved variations of one stage, each made when first asked for and kept; null where a variation has no bias. */
export interface Variants {
  /** This position back as drawn, all else as it is. */
  restored(position: string): Probe | null;
  /** One part's main value (hFE of a transistor) raised by `variation`; null too for a part that has no such value. */
  raised(ref: string): Probe | null;
  /** One part with another main value. */
  withValue(ref: string, value: number): Probe | null;
  /** The parts that `withTwinsAt` changes along with a part. */
  twinsOf(part: Part): readonly Part[];
  /** A part and its twins with another main value. */
  withTwinsAt(part: Part, value: number): Probe | null;
}

export function variantsOf(probe: Probe, drawn: Circuit): Variants {
  const { stage } = probe;
  const kept = new Map<string, Probe | null>();
  const keep = (key: string, make: () => Circuit | null): Probe | null => {
    const known = kept.get(key);
    if (known !== undefined) return known;
    const circuit = make();
    const varied = circuit === null ? null : varyStage(stage, circuit);
    const made = varied === null ? null : { stage: varied, reader: gainReader(varied) };
    kept.set(key, made);
    return made;
  };
  return {
    restored: (position) => keep(`restored ${position}`, () => restorePosition(stage.circuit, drawn, position)),
    raised: (ref) =>
      keep(`raised ${ref}`, () => {
        const part = stage.circuit.parts.find((candidate) => candidate.ref === ref);
        return part === undefined ? null : raisePart(stage.circuit, part);
      }),
    withValue: (ref, value) => keep(`${ref} = ${value}`, () => circuitWithValue(stage.circuit, ref, value)),
    twinsOf: (part) => twinsOf(stage.circuit, part),
    withTwinsAt: (part, value) => {
      const refs = [part, ...twinsOf(stage.circuit, part)].map(({ ref }) => ref).sort();
      return keep(`${refs.join(', ')} = ${value}`, () =>
        refs.reduce((circuit, ref) => circuitWithValue(circuit, ref, value), stage.circuit),
      );
    },
  };
}

/** The circuit with whatever stands in a position replaced by what the drawn circuit has there, in its old place of the order if there is one. */
function restorePosition(circuit: Circuit, drawn: Circuit, position: string): Circuit {
  const { parts } = circuit;
  const restored = drawn.parts.filter((part) => part.position === position);
  const first = parts.findIndex((part) => part.position === position);
  const at = first < 0 ? parts.length : first;
  const others = (from: readonly Part[]): readonly Part[] => from.filter((part) => part.position !== position);
  return { ...circuit, parts: [...parts.slice(0, at), ...restored, ...others(parts.slice(at))] };
}

function raisePart(circuit: Circuit, part: Part): Circuit | null {
  const value = mainValue(part);
  if (value !== null) return value > 0 ? circuitWithValue(circuit, part.ref, value * variation) : null;
  if (part.kind !== 'typed' || (part.type.kind !== 'npn' && part.type.kind !== 'pnp')) return null;
  const type = { ...part.type, hFE: part.type.hFE.map((point) => ({ ...point, value: point.value * variation })) };
  return { ...circuit, parts: circuit.parts.map((other) => (other === part ? { ...part, type } : other)) };
}
