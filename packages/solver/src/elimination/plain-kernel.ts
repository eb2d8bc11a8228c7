import { operation } from './operations.ts';

/** Frequencies that a block holds. */
export const lanes = 8;

/** Numbers that a slot holds. */
const width = 2 * lanes;

/** Runs one block program; the arrays are its storage, made once and written by the caller. */
export interface Kernel {
  /** rad/s of the block's lanes. */
  readonly omega: Float64Array;
  /** G of every slot, as the constant pivots left it. */
  readonly constants: Float64Array;
  /** C and D of the entries that change with frequency. */
  readonly capacitance: Float64Array;
  readonly loss: Float64Array;
  /** Slot s: the lanes' real parts from 2 · lanes · s on, then their imaginary parts. */
  readonly slots: Float64Array;
  readonly run: () => void;
}

export interface KernelSize {
  readonly slots: number;
  readonly varying: number;
}

/** The kernel in plain JavaScript: the same operations in the same order as the WebAssembly one, hence the same digits. */
export function plainKernel(program: Int32Array, size: KernelSize): Kernel {
  const omega = new Float64Array(lanes);
  const constants = new Float64Array(size.slots);
  const capacitance = new Float64Array(size.varying);
  const loss = new Float64Array(size.varying);
  const slots = new Float64Array(width * size.slots);

  function subtract(s: number, d: number, a: number): void {
    for (let k = 0; k < lanes; k++) {
      const sr = slots[s + k]!;
      const si = slots[s + lanes + k]!;
      const ar = slots[a + k]!;
      const ai = slots[a + lanes + k]!;
      slots[d + k] = slots[d + k]! - sr * ar + si * ai;
      slots[d + lanes + k] = slots[d + lanes + k]! - sr * ai - si * ar;
    }
  }

  function subtractReal(s: number, d: number, a: number): void {
    for (let k = 0; k < lanes; k++) {
      const ar = slots[a + k]!;
      slots[d + k] = slots[d + k]! - slots[s + k]! * ar;
      slots[d + lanes + k] = slots[d + lanes + k]! - slots[s + lanes + k]! * ar;
    }
  }

  function product(d: number, [a, b, e, f]: readonly [number, number, number, number]): void {
    for (let k = 0; k < lanes; k++) {
      const xr = slots[a + k]! - slots[b + k]!;
      const xi = slots[a + lanes + k]! - slots[b + lanes + k]!;
      const yr = slots[e + k]! - slots[f + k]!;
      const yi = slots[e + lanes + k]! - slots[f + lanes + k]!;
      slots[d + k] = xr * yr - xi * yi;
      slots[d + lanes + k] = xr * yi + xi * yr;
    }
  }

  function scale(a: number, b: number): void {
    for (let k = 0; k < lanes; k++) {
      const ar = slots[a + k]!;
      const ai = slots[a + lanes + k]!;
      const br = slots[b + k]!;
      const bi = slots[b + lanes + k]!;
      slots[a + k] = ar * br - ai * bi;
      slots[a + lanes + k] = ar * bi + ai * br;
    }
  }

  function invert(a: number): void {
    for (let k = 0; k < lanes; k++) {
      const re = slots[a + k]!;
      const im = slots[a + lanes + k]!;
      const inverse = 1 / (re * re + im * im);
      slots[a + k] = re * inverse;
      slots[a + lanes + k] = -im * inverse;
    }
  }

  function setLinear(a: number, constant: number, v: number): void {
    for (let k = 0; k < lanes; k++) {
      slots[a + k] = constant + omega[k]! * loss[v]!;
      slots[a + lanes + k] = omega[k]! * capacitance[v]!;
    }
  }

  function run(): void {
    let at = 0;
    for (;;) {
      const kind = program[at]!;
      const first = program[at + 1]!;
      const second = program[at + 2]!;
      switch (kind) {
        case operation.subtract:
          for (let k = at + 3; k < at + 3 + 2 * second; k += 2) {
            subtract(width * first, width * program[k]!, width * program[k + 1]!);
          }
          at += 3 + 2 * second;
          break;
        case operation.subtractReal:
          for (let k = at + 3; k < at + 3 + 2 * second; k += 2) {
            subtractReal(width * first, width * program[k]!, width * program[k + 1]!);
          }
          at += 3 + 2 * second;
          break;
        case operation.scale:
          scale(width * first, width * second);
          at += 3;
          break;
        case operation.invert:
          invert(width * first);
          at += 2;
          break;
        case operation.product:
          for (let k = at + 2; k < at + 2 + 5 * first; k += 5) {
            const slot = (n: number): number => width * program[k + n]!;
            product(slot(0), [slot(1), slot(2), slot(3), slot(4)]);
          }
          at += 2 + 5 * first;
          break;
        case operation.constant:
          for (let k = at + 2; k < at + 2 + first; k++) {
            const slot = width * program[k]!;
            slots.fill(constants[program[k]!]!, slot, slot + lanes);
            slots.fill(0, slot + lanes, slot + width);
          }
          at += 2 + first;
          break;
        case operation.linear:
          for (let k = at + 2; k < at + 2 + 2 * first; k += 2) {
            setLinear(width * program[k]!, constants[program[k]!]!, program[k + 1]!);
          }
          at += 2 + 2 * first;
          break;
        default:
          return;
      }
    }
  }

  return { omega, constants, capacitance, loss, slots, run };
}
