import type { Part, TypedPart } from './circuit.ts';

const untypedKeys: Readonly<Record<Exclude<Part['kind'], 'typed'>, readonly string[]>> = {
  resistor: ['build', 'value', 'tolerance', 'rated', 'noise_index', 'body'],
  capacitor: ['build', 'value', 'tolerance', 'rated', 'esr', 'leakage', 'loss', 'ripple_current', 'reversed', 'body'],
  inductor: ['value', 'resistance', 'tolerance', 'body'],
  trimmer: ['value', 'turn', 'tolerance', 'rated', 'body'],
  switch: ['at', 'body'],
};

const figureKeys: Readonly<Record<TypedPart['type']['kind'], readonly string[]>> = {
  npn: ['inserted', 'hFE', 'VBE', 'noise_corner'],
  pnp: ['inserted', 'hFE', 'VBE', 'noise_corner'],
  diode: ['reversed', 'VF'],
  zener: ['reversed', 'VF', 'VZ'],
  'jfet-n': ['inserted', 'IDSS', 'VGS_off'],
  'jfet-p': ['inserted', 'IDSS', 'VGS_off'],
  triode: ['inserted', 'mu', 'rp'],
  opamp: [],
};

/** The keys, spelled as in a job file, that mean something for what stands in this position. */
export function keysFor(drawn: Part): readonly string[] {
  return drawn.kind === 'typed'
    ? ['type', 'case_leads', 'case', 'body', ...figureKeys[drawn.type.kind]]
    : untypedKeys[drawn.kind];
}

/** What a position holds, in words: `a capacitor`, `an npn transistor`. */
export function kindInWords(drawn: Part): string {
  const words = drawn.kind === 'typed' ? typeKindInWords(drawn.type.kind) : drawn.kind;
  return `${/^(inductor|npn|n-channel|op-amp)/.test(words) ? 'an' : 'a'} ${words}`;
}

/** A type's kind in words: `npn transistor`, `zener diode`. */
export function typeKindInWords(kind: TypedPart['type']['kind']): string {
  switch (kind) {
    case 'npn':
    case 'pnp':
      return `${kind} transistor`;
    case 'jfet-n':
      return 'n-channel JFET';
    case 'jfet-p':
      return 'p-channel JFET';
    case 'zener':
      return 'zener diode';
    case 'opamp':
      return 'op-amp';
    case 'diode':
    case 'triode':
      return kind;
  }
}
