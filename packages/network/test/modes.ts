import type { Circuit } from '@curvewright/board';
import { compileNetwork, naturalModes, solveBias, type NaturalModes, type Pole, type Root } from '../src/index.ts';

/** Poles and zeros of a circuit with its loss factors in series form; throws where there is no bias, which fails the test that asked. */
export function modesOf(circuit: Circuit): NaturalModes {
  const network = compileNetwork(circuit, undefined, { loss: 'series' });
  const bias = solveBias(network);
  if (!bias.ok) throw new Error(bias.diagnostic.message);
  const modes = naturalModes(network, bias.point);
  if (modes === null) throw new Error('no poles');
  return modes;
}

/** `re` and `im`, by magnitude, then the upper half first. */
export function sorted(roots: Iterable<{ re: number; im: number }>): readonly (readonly [number, number])[] {
  return [...roots]
    .map(({ re, im }) => [re, im] as const)
    .toSorted((a, b) => Math.hypot(...a) - Math.hypot(...b) || b[1] - a[1]);
}

/** The largest |a − b| / |b| over both lists, which must be as long. */
export function worstRelative(found: Iterable<Root>, expected: Iterable<{ re: number; im: number }>): number {
  const [a, b] = [sorted(found), sorted(expected)];
  if (a.length !== b.length) throw new Error(`${a.length} roots where ${b.length} are expected`);
  return Math.max(0, ...a.map(([re, im], n) => Math.hypot(re - b[n]![0], im - b[n]![1]) / Math.hypot(...b[n]!)));
}

/** Both roots of a·s² + b·s + c with c ≠ 0, without cancellation. */
export function rootsOf(a: number, b: number, c: number): readonly { re: number; im: number }[] {
  const d = b * b - 4 * a * c;
  if (d < 0) {
    const im = Math.sqrt(-d) / (2 * a);
    return [
      { re: -b / (2 * a), im },
      { re: -b / (2 * a), im: -im },
    ];
  }
  const far = -(b + Math.sign(b || 1) * Math.sqrt(d)) / 2;
  return [
    { re: far / a, im: 0 },
    { re: c / far, im: 0 },
  ];
}

export function poleNear(modes: NaturalModes, hz: number): Pole {
  const off = ({ re, im }: Pole): number => Math.abs(Math.log(Math.hypot(re, im) / (2 * Math.PI * hz)));
  return modes.poles.toSorted((a, b) => off(a) - off(b))[0]!;
}

export function qOf({ re, im }: { re: number; im: number }): number {
  return Math.hypot(re, im) / (2 * Math.abs(re));
}
