import type { Part } from './circuit.ts';

/** The part with another main value: Ω of a resistor or trimmer, F of a capacitor, H of an inductor; throws where it has none. */
export function withValue(part: Part, value: number): Part {
  switch (part.kind) {
    case 'resistor':
    case 'trimmer':
      return { ...part, ohms: value };
    case 'capacitor':
      return { ...part, farads: value };
    case 'inductor':
      return { ...part, henries: value };
    case 'switch':
    case 'typed':
      throw new RangeError(`${part.ref} has no value`);
  }
}
