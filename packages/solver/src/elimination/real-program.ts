import { operation } from './operations.ts';

/** Runs the eliminating operations of a program over real numbers, one to a slot. */
export function runReal(program: Int32Array, slots: Float64Array): void {
  let at = 0;
  for (;;) {
    switch (program[at]) {
      case operation.subtract: {
        const multiplier = slots[program[at + 1]!]!;
        const end = at + 3 + 2 * program[at + 2]!;
        for (at += 3; at < end; at += 2) {
          const target = program[at]!;
          slots[target] = slots[target]! - multiplier * slots[program[at + 1]!]!;
        }
        break;
      }
      case operation.scale: {
        const target = program[at + 1]!;
        slots[target] = slots[target]! * slots[program[at + 2]!]!;
        at += 3;
        break;
      }
      case operation.invert: {
        const target = program[at + 1]!;
        slots[target] = 1 / slots[target]!;
        at += 2;
        break;
      }
      default:
        return;
    }
  }
}
