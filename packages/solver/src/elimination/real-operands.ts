import { operation } from './operations.ts';

/**
 * The same program with the operands that have no imaginary part gathered into operations of half the work. `complex` marks the slots that
 * begin with one.
 */
export function gatherRealOperands(program: readonly number[], complex: Set<number>): number[] {
  const gathered: number[] = [];
  for (let at = 0; at < program.length;) {
    const [kind, first, second] = [program[at]!, program[at + 1]!, program[at + 2]!];
    if (kind !== operation.subtract) {
      const length = kind === operation.scale ? 3 : 2;
      if (kind === operation.scale && complex.has(second)) complex.add(first);
      gathered.push(...program.slice(at, at + length));
      at += length;
      continue;
    }
    const pairs = { real: [] as number[], complex: [] as number[] };
    for (let k = at + 3; k < at + 3 + 2 * second; k += 2) {
      const [target, operand] = [program[k]!, program[k + 1]!];
      pairs[complex.has(operand) ? 'complex' : 'real'].push(target, operand);
      if (complex.has(first) || complex.has(operand)) complex.add(target);
    }
    if (pairs.complex.length > 0) gathered.push(operation.subtract, first, pairs.complex.length / 2, ...pairs.complex);
    if (pairs.real.length > 0) gathered.push(operation.subtractReal, first, pairs.real.length / 2, ...pairs.real);
    at += 3 + 2 * second;
  }
  return gathered;
}
