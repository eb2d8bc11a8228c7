import { printQuantity } from '@curvewright/quantity';
import { adapterDb, type Adapter, type Surroundings } from './adapter.ts';

/** Two channels of parts, numbered in pairs, as a board file lists them. */
type Numbered = (kind: 'resistor' | 'capacitor', value: number, from: string, to: string) => string;

/** Digits that hold every preferred value, and any impedance that a person states, as written. */
const digits = 6;

/** The adapter as a board file of its own, both channels, with the generator's impedance in it and the phono input as its load. */
export function adapterBoard(adapter: Adapter, surroundings: Surroundings): string {
  const part = numbered();
  const { generator, load } = surroundings;
  const shape = adapter.shaping === 'flat' ? 'flat divider' : 'inverse RIAA';
  const level = adapterDb(adapter, surroundings, 1000).toFixed(2).replace('-', '−');
  const behind = generator > 0 ? 'src' : 'in';
  return [
    `# A line-to-phono adapter (${shape}), computed: ${level} dB at 1 kHz from the open voltage of a generator of ${ohms(generator)}`,
    `# to a phono input of ${ohms(load)}. It is no equaliser: a curve command's deviation of this file is against the playback curve;`,
    adapter.shaping === 'flat'
      ? '# add that curve once, and what is left is the error of the divider.'
      : '# add that curve twice, and what is left is the error of the adapter.',
    'board: 1',
    `title: ${JSON.stringify(`Line-to-phono adapter, ${shape}`)}`,
    'channels: [left, right]',
    'input: { node: in }',
    `output: { node: out, load: { resistance: ${ohms(load)} } }`,
    'parts:',
    ...(generator > 0
      ? ["  # the generator's own impedance, not to be fitted", part('resistor', generator, 'in', 'src')]
      : []),
    ...seriesParts(adapter, behind, part),
    '  # across the phono input, in the plug',
    part('resistor', adapter.across, 'out', 'gnd'),
    '',
  ].join('\n');
}

function seriesParts(adapter: Adapter, from: string, part: Numbered): readonly string[] {
  if (adapter.shaping === 'flat') return [part('resistor', adapter.series, from, 'out')];
  return [
    ...(['bass', 'treble'] as const).flatMap((name) => {
      const [start, end] = name === 'bass' ? [from, 'mid'] : ['mid', 'out'];
      const { resistors, capacitors } = adapter[name];
      return [
        `  # ${name} section: resistors in series, capacitors across them`,
        ...resistors.map((value, n) => {
          const [first, last] = [n === 0, n === resistors.length - 1];
          return part('resistor', value, first ? start : `${name}${n}`, last ? end : `${name}${n + 1}`);
        }),
        ...capacitors.map((value) => part('capacitor', value, start, end)),
      ];
    }),
  ];
}

function numbered(): Numbered {
  const counts = { resistor: 101, capacitor: 101 };
  return (kind, value, from, to) => {
    const number = counts[kind];
    counts[kind] += 2;
    const letter = kind === 'resistor' ? 'R' : 'C';
    const worth = printQuantity(value, kind === 'resistor' ? 'Ω' : 'F', digits);
    // An adapter is worth good parts: 1 % film resistors, and capacitors measured to 1 %.
    const build = kind === 'resistor' ? 'metal_film' : 'film';
    return `  ${letter}${number}/${letter}${number + 1}: { kind: ${kind}, build: ${build}, value: ${worth}, tolerance: 1 %, between: [${from}, ${to}] }`;
  };
}

function ohms(value: number): string {
  return printQuantity(value, 'Ω', digits);
}
