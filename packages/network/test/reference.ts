import type { Circuit, NodeName, Part } from '@curvewright/board';
import { Matrix, SVD, solve } from 'ml-matrix';
import type { SmallSignal } from '../src/index.ts';
import { add, imaginary, inverse, scale, type Complex } from './complex.ts';

/**
 * [[Re, −Im], [Im, Re]] of a complex matrix given by its entries, each row over its largest entry, and what each row was divided by: the
 * real form of twice the size.
 */
function realForm(size: number, entry: (row: number, column: number) => Complex): { form: Matrix; divisors: number[] } {
  const form = Matrix.zeros(2 * size, 2 * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      const [re, im] = entry(i, j);
      form.set(i, j, re);
      form.set(i, size + j, -im);
      form.set(size + i, j, im);
      form.set(size + i, size + j, re);
    }
  }
  const divisors = form.to2DArray().map((row) => Math.max(...row.map(Math.abs)));
  divisors.forEach((divisor, i) => form.mulRow(i, 1 / divisor));
  return { form, divisors };
}

/** Solves for a right side of 1 in one row and 0 elsewhere, by ml-matrix's LU factors. */
function solveForUnit({ form, divisors }: ReturnType<typeof realForm>, row: number): (column: number) => Complex {
  const right = Matrix.zeros(form.rows, 1);
  right.set(row, 0, 1 / divisors[row]!);
  const x = solve(form, right).to1DArray();
  return (column) => [x[column]!, x[form.rows / 2 + column]!];
}

/** Gain of the first channel at a frequency by a dense real solve of the linearised network, and the condition number of that system. */
export function referenceGain(small: SmallSignal, hz: number): { gain: Complex; condition: number } {
  const omega = 2 * Math.PI * hz;
  const { size, conductance, capacitance, loss } = small;
  const system = realForm(size, (i, j) => {
    const at = i * size + j;
    return [conductance[at]! + omega * loss[at]!, omega * capacitance[at]!];
  });
  const { drive, input, output } = small.channels[0]!;
  const at = solveForUnit(system, drive);
  const [a, b] = at(output);
  const over = inverse(at(input));
  const gain: Complex = [a * over[0] - b * over[1], a * over[1] + b * over[0]];
  return { gain, condition: new SVD(system.form).condition };
}

/** Gain from 1 V at `in` to `out` of resistors, capacitors and inductors, from node equations put up straight from the parts. */
export function nodalGain(circuit: Circuit, hz: number): Complex {
  const omega = 2 * Math.PI * hz;
  const nodes = [...new Set(circuit.parts.flatMap((part) => twoLeads(part)))].filter((node) => node !== 'gnd');
  if (!nodes.includes('out')) throw new Error('no part at the output');
  const table = nodes.map(() => nodes.map((): Complex => [0, 0]));
  const gather = (a: number, b: number, value: Complex): void => {
    if (a >= 0 && b >= 0) table[a]![b] = add(table[a]![b]!, value);
  };
  for (const part of circuit.parts) {
    const [a, b] = twoLeads(part).map((node) => nodes.indexOf(node)) as [number, number];
    const y = admittanceOf(part, omega);
    gather(a, a, y);
    gather(b, b, y);
    gather(a, b, scale(-1, y));
    gather(b, a, scale(-1, y));
  }
  // The generator takes the place of the input node's own equation.
  const input = nodes.indexOf('in');
  nodes.forEach((_, j) => (table[input]![j] = [j === input ? 1 : 0, 0]));
  return solveForUnit(
    realForm(nodes.length, (i, j) => table[i]![j]!),
    input,
  )(nodes.indexOf('out'));
}

function twoLeads(part: Part): readonly NodeName[] {
  if (part.kind === 'resistor' || part.kind === 'inductor') return part.between;
  if (part.kind === 'capacitor') return [part.plus, part.minus];
  throw new Error(`${part.ref} is neither resistor, capacitor nor inductor`);
}

function admittanceOf(part: Part, omega: number): Complex {
  if (part.kind === 'resistor') return [1 / part.ohms, 0];
  if (part.kind === 'inductor') return inverse([part.ohms, omega * part.henries]);
  if (part.kind !== 'capacitor') throw new Error(`${part.ref} is neither resistor, capacitor nor inductor`);
  const dielectric = add(imaginary(omega * part.farads), [omega * part.farads * (part.loss ?? 0), 0]);
  const own = part.esr === undefined ? dielectric : inverse(add([part.esr, 0], inverse(dielectric)));
  return part.leakage === undefined ? own : add(own, [1 / part.leakage, 0]);
}
