/** A trade word and what it means, in words that a first-year apprentice has. */
export interface Term {
  readonly term: string;
  /** As it stands in sentences; the term itself where silent. */
  readonly forms?: readonly string[];
  readonly meaning: string;
}

export const glossary: readonly Term[] = [
  { term: 'amplify', forms: ['amplify', 'amplifies', 'amplified'], meaning: 'To make a signal larger.' },
  { term: 'ampere', forms: ['amperes'], meaning: 'The unit of current. One holds a thousand mA.' },
  { term: 'base', meaning: 'The lead of a transistor that steers it. It takes a small current.' },
  { term: 'bass', meaning: 'The low notes, below about 200 Hz.' },
  { term: 'bench', meaning: 'The table where a unit is repaired and measured.' },
  { term: 'bias', meaning: 'The DC voltages and currents at which a stage rests while no music plays.' },
  { term: 'board', forms: ['board', 'boards'], meaning: 'The plate that carries the parts of a stage.' },
  { term: 'capacitor', forms: ['capacitor', 'capacitors'], meaning: 'A part that lets AC pass and holds DC back.' },
  { term: 'channel', forms: ['channel', 'channels'], meaning: 'One side of a stereo unit, left or right.' },
  {
    term: 'corner',
    meaning: 'The frequency where a capacitor costs 3 dB. Below it, or above it, it costs more.',
  },
  {
    term: 'coupling capacitor',
    meaning: 'A capacitor that hands the music on from one stage to the next, and keeps the DC back.',
  },
  {
    term: 'compute',
    forms: ['compute', 'computed', 'computing'],
    meaning: 'To work out from the values of all parts.',
  },
  { term: 'current', forms: ['current', 'currents'], meaning: 'What flows through a part, in amperes.' },
  { term: 'curve', meaning: 'A line of gain or level over frequency. The curve alone is the RIAA curve.' },
  { term: 'data sheet', meaning: 'The page on which the maker of a part says what it does.' },
  {
    term: 'dB',
    forms: ['dB', 'decibel'],
    meaning: 'Decibel. 6 dB more is twice the voltage. 20 dB more is ten times.',
  },
  { term: 'DC', meaning: 'Voltage or current that stays the same. AC swings back and forth, as music does.' },
  { term: 'diode', forms: ['diode', 'diodes'], meaning: 'A part that lets current flow one way only.' },
  { term: 'diode test', meaning: 'A place on the meter that shows the volts across a junction.' },
  { term: 'drift', meaning: 'A very slow change, as when a part gets warm.' },
  { term: 'dried out', meaning: 'Said of a capacitor that has lost its wet filling. Its value falls, its ESR grows.' },
  {
    term: 'ESR',
    meaning: 'Equivalent series resistance: the resistor that stands inside a capacitor, in series with it.',
  },
  { term: 'ESR meter', meaning: 'A meter that measures with AC, and so sees the ESR.' },
  { term: 'farad', forms: ['farads', 'microfarads'], meaning: 'The unit of a capacitor. One holds a million µF.' },
  {
    term: 'feedback',
    meaning: 'A part of the output that is led back to the input. It takes gain away and makes it exact.',
  },
  {
    term: 'feedback leg',
    forms: ['feedback leg', 'leg'],
    meaning: 'The resistor to common at the feedback. The smaller it is, the higher the gain.',
  },
  { term: 'filter', meaning: 'A circuit that lets some frequencies through more than others.' },
  { term: 'flat', meaning: 'The flat side of a case. It shows which way round the part goes.' },
  { term: 'formula', meaning: 'A sum with letters, in which values are put.' },
  { term: 'frequency', forms: ['frequency', 'frequencies'], meaning: 'How often a signal swings in a second, in Hz.' },
  { term: 'gain', meaning: 'How many times larger the output is than the input, often in dB.' },
  { term: 'hFE', meaning: 'How many times larger the collector current of a transistor is than its base current.' },
  { term: 'hiss', forms: ['hiss', 'hisses'], meaning: 'The even noise that is heard when no music plays.' },
  { term: 'Hz', forms: ['Hz', 'kHz', 'hertz'], meaning: 'Hertz: swings in a second. 1 kHz is a thousand of them.' },
  { term: 'input', meaning: 'Where the signal goes in.' },
  { term: 'junction', meaning: 'The border inside a diode or transistor that lets current flow one way only.' },
  {
    term: 'leakage',
    forms: ['leakage', 'leaks', 'leaking'],
    meaning: 'DC that a capacitor lets through although it should not.',
  },
  { term: 'lead', forms: ['lead', 'leads'], meaning: 'A wire that comes out of a part.' },
  { term: 'level', meaning: 'How strong a signal is. Here in dB, against that at 1 kHz.' },
  { term: 'low hFE', meaning: 'Said of a transistor whose hFE has become too small.' },
  { term: 'node', forms: ['node', 'nodes'], meaning: 'A point where leads meet. All of it has the same voltage.' },
  { term: 'noise', forms: ['noise', 'noisy'], meaning: 'A signal that nobody put in. Hiss is one.' },
  { term: 'ohm', forms: ['ohms'], meaning: 'The unit of a resistor. 1 kΩ is a thousand of them.' },
  { term: 'open', meaning: 'Said of a part that no current can pass any more.' },
  { term: 'output', meaning: 'Where the signal comes out.' },
  { term: 'print', meaning: 'The picture of a part that is printed on the board.' },
  { term: 'RC', forms: ['R·C', 'R'], meaning: 'A resistance times a capacitor. In ohms and farads it makes seconds.' },
  { term: 'resistor', forms: ['resistor', 'resistors'], meaning: 'A part that holds current back, in ohms.' },
  {
    term: 'RIAA curve',
    forms: ['RIAA curve', 'RIAA'],
    meaning: 'The curve that a record player has to follow: much bass, little treble. Records are cut the other way.',
  },
  { term: 'series', meaning: 'One after the other, so that the same current flows through both.' },
  {
    term: 'shorted',
    meaning: 'Joined by a wire. Said of a part or an input whose two leads are one.',
  },
  { term: 'signal', meaning: 'The voltage that carries the music.' },
  { term: 'silicon', meaning: 'What the usual diodes and transistors are made of.' },
  { term: 'sleeve', meaning: 'A small tube over a bare wire, so that it touches nothing.' },
  { term: 'solder', meaning: 'To join parts with soft metal, melted by an iron.' },
  { term: 'stage', meaning: 'Parts that together amplify once.' },
  { term: 'switch-on', meaning: 'The first seconds after the unit gets its power.' },
  {
    term: 'time constant',
    meaning: 'The time in which what is left of a jump falls to about a third.',
  },
  { term: 'transistor', forms: ['transistor', 'transistors'], meaning: 'A part with three leads that amplifies.' },
  { term: 'treble', meaning: 'The high notes, above about 2 kHz.' },
  { term: 'valve', forms: ['valve', 'valves'], meaning: 'A glass tube that amplifies, before there were transistors.' },
  { term: 'voltage', forms: ['voltage', 'voltages', 'volts'], meaning: 'What drives a current, in volts.' },
  { term: 'voltmeter', meaning: 'A meter that shows DC voltage.' },
  { term: 'zero', meaning: 'A bend in a curve, from which on the gain falls less or rises more.' },
];

/** Longest first: `feedback leg` before `feedback`. */
const forms: readonly (readonly [form: string, term: Term])[] = glossary
  .flatMap((term) => (term.forms ?? [term.term]).map((form) => [form, term] as const))
  .toSorted(([a], [b]) => b.length - a.length);

const pattern = new RegExp(
  `(?<![\\p{L}\\p{N}])(${forms.map(([form]) => form.replace(/[.*+?^$()|[\]\\]/g, '\\$&')).join('|')})(?![\\p{L}\\p{N}])`,
  'giu',
);

/** A text in pieces, each trade word a piece with its term. */
export function withTerms(text: string): readonly { readonly text: string; readonly term: Term | null }[] {
  return text.split(pattern).map((piece, n) => ({ text: piece, term: n % 2 === 1 ? termOf(piece) : null }));
}

/** The trade words of some texts, by the alphabet. */
export function termsIn(texts: readonly string[]): readonly Term[] {
  const found = new Set(texts.flatMap((text) => withTerms(text).flatMap(({ term }) => term ?? [])));
  return glossary.filter((term) => found.has(term));
}

function termOf(piece: string): Term | null {
  const same = forms.find(([form]) => form === piece);
  return (same ?? forms.find(([form]) => form.toLowerCase() === piece.toLowerCase()))?.[1] ?? null;
}
