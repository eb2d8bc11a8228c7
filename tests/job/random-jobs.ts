import type { Board, Job, Part } from '@curvewright/board';
import fc from 'fast-check';
import { jobFrom, seedBoard } from '../seeds/read-seeds.ts';

/** What a job fits, by designator, as it stands in the file. */
export type Fits = Readonly<Record<string, string>>;

const board: Board = seedBoard('lk417');

/** Every part of the demo board. */
export const parts: readonly Part[] = board.circuit.parts;

/** The part of the other channel in the same place; the part itself where the channels share it. */
export function twinOf(ref: string): string {
  const [pair = [ref]] = board.positions.filter((refs) => refs.includes(ref));
  return pair.find((other) => other !== ref) ?? ref;
}

/** A demo type that may be fitted in place of a transistor, the leads of which run the other way. */
const types = `
types:
  HN-D:
    { kind: npn, hFE: { low: 300, typical: 450, high: 700, at: 0.1 mA }, VBE: { value: 610 mV, at: 1 mA }, early_voltage: 80 V,
      fT: { value: 180 MHz, at: 5 mA }, Cob: 2.5 pF, Cib: 7 pF, rbb: 60 Ω }`;

export function jobWith(fits: Fits, onBoard: typeof board = board): Job {
  const positions = Object.entries(fits).map(([ref, fit]) => `  ${ref}: { fit: ${fit} }`);
  return jobFrom(
    `job: 1\ntitle: invented\nboard: lk417.board.yaml\npositions:\n${positions.join('\n')}\n${types}\n`,
    onBoard,
  );
}

/** A new part with the figures of a drawn one but for its value, which is `factor` times as much. */
export function fitLike(part: Part, factor: number = 1): string {
  switch (part.kind) {
    case 'resistor':
      return `{ ${[`value: ${part.ohms * factor} Ω`, ...ratedLike(part, 'W')].join(', ')} }`;
    case 'capacitor': {
      const { build, farads, esr, leakage, loss } = part;
      const stated = [
        ...ratedLike(part, 'V'),
        ...bodyFor(part),
        ...(build === undefined ? [] : [`build: ${build}`]),
        ...(esr === undefined ? [] : [`esr: ${esr} Ω`]),
        ...(leakage === undefined ? [] : [`leakage: ${leakage} Ω`]),
        ...(loss === undefined ? [] : [`loss: ${loss}`]),
      ];
      return `{ ${[`value: ${farads * factor * 1e12} pF`, ...stated].join(', ')} }`;
    }
    case 'typed':
      return `{ type: ${part.typeName} }`;
    default:
      throw new Error(`no ${part.kind} on the demo board`);
  }
}

function ratedLike({ rated }: Part, unit: 'V' | 'W'): readonly string[] {
  return rated === undefined ? [] : [`rated: ${rated} ${unit}`];
}

/** The size that just goes into the part's place. */
function bodyFor({ seat }: Part): readonly string[] {
  const { pitch, height, diameter } = seat ?? {};
  const sides = Object.entries({ pitch: pitch?.[0], height, diameter }).filter(([, metres]) => metres !== undefined);
  const written = sides.map(([side, metres]) => `${side}: ${1000 * (metres ?? 0)} mm`);
  return written.length === 0 ? [] : [`body: { ${written.join(', ')} }`];
}

/** Some parts of the demo board swapped: values from half to double, transistors for a type of higher gain. */
export const fits: fc.Arbitrary<Fits> = fc
  .uniqueArray(fc.tuple(fc.nat(parts.length - 1), fc.double({ min: 0.5, max: 2, noNaN: true })), {
    selector: ([index]) => index,
    minLength: 1,
    maxLength: 8,
  })
  .map((chosen) =>
    Object.fromEntries(
      chosen.map(([index, factor]) => {
        const part = parts[index]!;
        return [part.ref, part.kind === 'typed' && part.type.kind === 'npn' ? '{ type: HN-D }' : fitLike(part, factor)];
      }),
    ),
  );
