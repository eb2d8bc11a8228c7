/** The units a quantity can be asked for in; values are in that unit without prefix, `%` as a fraction. */
export type Unit =
  'Ω' | 'F' | 'H' | 'V' | 'A' | 'W' | 'Hz' | 's' | 'm' | '°C' | 'S' | '%' | 'dB' | 'V/√Hz' | 'A/√Hz' | 'Ω/V';

interface UnitFacts {
  /** With its article, as it stands in a message: "5 V is a voltage; write a resistance". */
  readonly noun: string;
  readonly example: string;
  /** The unit in the words of the unit arithmetic. */
  readonly expression: string;
  /** Prefixes that can be written. Those that only an error would use (a megafarad) are left out. */
  readonly prefixes: string;
  /** Ways to write it beside its own name; a spelling of a composed unit maps to its expression. */
  readonly spellings: Readonly<Record<string, string>>;
}

export const unitFacts: Readonly<Record<Unit, UnitFacts>> = {
  Ω: { noun: 'a resistance', example: '4.7 kΩ', expression: 'ohm', prefixes: 'nµmkKMGT', spellings: {} },
  F: { noun: 'a capacitance', example: '100 nF', expression: 'F', prefixes: 'fpnµm', spellings: {} },
  H: { noun: 'an inductance', example: '480 mH', expression: 'H', prefixes: 'pnµm', spellings: {} },
  V: { noun: 'a voltage', example: '12 V', expression: 'V', prefixes: 'pnµmkK', spellings: {} },
  A: { noun: 'a current', example: '1 mA', expression: 'A', prefixes: 'fpnµmk', spellings: {} },
  W: { noun: 'a power', example: '0.25 W', expression: 'W', prefixes: 'pnµmkM', spellings: {} },
  Hz: { noun: 'a frequency', example: '1 kHz', expression: 'Hz', prefixes: 'µmkKMG', spellings: {} },
  s: { noun: 'a time', example: '75 µs', expression: 's', prefixes: 'pnµm', spellings: {} },
  m: { noun: 'a length', example: '5 mm', expression: 'm', prefixes: 'nµmc', spellings: {} },
  '°C': {
    noun: 'a temperature',
    example: '25 °C',
    expression: 'benchCelsius',
    prefixes: '',
    spellings: { C: 'benchCelsius', degC: 'benchCelsius', '℃': 'benchCelsius', ºC: 'benchCelsius' },
  },
  S: {
    noun: 'a conductance',
    example: '20 µS',
    expression: 'S',
    prefixes: 'pnµm',
    // Older data sheets give an admittance in µmho and a transconductance in mA/V.
    spellings: { mho: 'S', 'A/V': 'A/V' },
  },
  '%': { noun: 'a percentage', example: '5 %', expression: 'benchPercent', prefixes: '', spellings: {} },
  dB: { noun: 'a level in dB', example: '3 dB', expression: 'benchDecibel', prefixes: '', spellings: {} },
  'V/√Hz': {
    noun: 'a noise voltage density',
    example: '4 nV/√Hz',
    expression: 'V/Hz^0.5',
    prefixes: 'fpnµm',
    spellings: {},
  },
  'A/√Hz': {
    noun: 'a noise current density',
    example: '0.5 pA/√Hz',
    expression: 'A/Hz^0.5',
    prefixes: 'afpnµm',
    spellings: {},
  },
  'Ω/V': { noun: 'a meter sensitivity', example: '20 kΩ/V', expression: 'ohm/V', prefixes: 'kKM', spellings: {} },
};

/** A unit as written: what it measures, and its prefixed form in the words of the unit arithmetic. */
export interface WrittenUnit {
  readonly unit: Unit;
  readonly expression: string;
  /** As print writes it: `kHz` for a written `KHz`. */
  readonly printed: string;
}

const written: ReadonlyMap<string, WrittenUnit> = new Map(
  (Object.keys(unitFacts) as Unit[]).flatMap((unit) => {
    const facts = unitFacts[unit];
    const spellings = { [unit]: facts.expression, ...facts.spellings };
    return Object.entries(spellings).flatMap(([spelling, expression]) =>
      ['', ...facts.prefixes].map((prefix): [string, WrittenUnit] => {
        const proper = prefix === 'K' ? 'k' : prefix;
        return [prefix + spelling, { unit, expression: prefixed(proper, expression), printed: proper + spelling }];
      }),
    );
  }),
);

/** `k` and `ohm` make `kohm`: the unit arithmetic writes µ as u. */
export function prefixed(prefix: string, expression: string): string {
  return (prefix === 'µ' ? 'u' : prefix) + expression;
}

/** Brings the two code points of µ and Ω, the written-out forms and the minus signs to one spelling. */
export function normalise(text: string): string {
  return text
    .trim()
    .replace(/[\u2212\u2013]/g, '-')
    .replace(/\u03bc/g, 'µ')
    .replace(/\u2126|ohms?/gi, 'Ω')
    .replace(/sqrt\(\s*Hz\s*\)/g, '√Hz')
    .replace(/\s?([/√])\s?/g, '$1');
}

/** The unit behind normalised text (`kΩ`, `uF`, `nV/√Hz`), or undefined where there is none of that name. */
export function findUnit(text: string): WrittenUnit | undefined {
  return written.get(text) ?? (text.startsWith('u') ? written.get(`µ${text.slice(1)}`) : undefined);
}

/** A unit of the wanted kind that differs from the text in upper and lower case only: `kHz` for `KHZ`. */
export function findUnitInAnyCase(text: string, unit: Unit): WrittenUnit | undefined {
  const lower = text.toLowerCase();
  const found = [...written].filter(([spelling, entry]) => entry.unit === unit && spelling.toLowerCase() === lower);
  // Where case decides the prefix (milli or mega) there is nothing to offer.
  return new Set(found.map(([, entry]) => entry.expression)).size === 1 ? found[0]?.[1] : undefined;
}
