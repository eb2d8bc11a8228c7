import { kernelModule, partBytes } from './kernel-code.ts';
import { operation } from './operations.ts';
import { lanes, type Kernel, type KernelSize } from './plain-kernel.ts';

const slotBytes = 2 * partBytes;

/** Where everything lies in the memory, bytes. */
interface Layout {
  readonly omega: number;
  readonly constants: number;
  readonly capacitance: number;
  readonly loss: number;
  readonly slots: number;
  readonly end: number;
}

const programStart = 16;

function layoutOf(words: number, { slots, varying }: KernelSize): Layout {
  const line = (bytes: number): number => Math.ceil(bytes / 64) * 64;
  const omega = line(programStart + 4 * words);
  const constants = omega + partBytes;
  const capacitance = line(constants + 8 * slots);
  const loss = line(capacitance + 8 * varying);
  const first = line(loss + 8 * varying);
  return { omega, constants, capacitance, loss, slots: first, end: first + slotBytes * slots };
}

/** The program with addresses in place of slots. */
function addressed(program: Int32Array, layout: Layout): number[] {
  const slot = (s: number): number => layout.slots + slotBytes * s;
  const own = (s: number): number => layout.constants + 8 * s;
  const words: number[] = [];
  for (let k = 0; k < program.length;) {
    const [kind, one, two] = [program[k]!, program[k + 1]!, program[k + 2]!];
    const list = (from: number, count: number): number[] => [...program.subarray(from, from + count)];
    switch (kind) {
      case operation.subtract:
      case operation.subtractReal:
        words.push(kind, slot(one), two, ...list(k + 3, 2 * two).map(slot));
        k += 3 + 2 * two;
        break;
      case operation.scale:
        words.push(kind, slot(one), slot(two));
        k += 3;
        break;
      case operation.invert:
        words.push(kind, slot(one));
        k += 2;
        break;
      case operation.constant:
        words.push(kind, one, ...list(k + 2, one).flatMap((s) => [slot(s), own(s)]));
        k += 2 + one;
        break;
      case operation.product:
        words.push(kind, one);
        for (let n = k + 2; n < k + 2 + 5 * one; n += 5) words.push(...list(n, 5).map(slot), 0, 0, 0);
        k += 2 + 5 * one;
        break;
      case operation.linear:
        words.push(kind, one);
        for (let n = k + 2; n < k + 2 + 2 * one; n += 2) {
          const [s, v] = [program[n]!, program[n + 1]!];
          words.push(slot(s), own(s), layout.capacitance + 8 * v, layout.loss + 8 * v);
        }
        k += 2 + 2 * one;
        break;
      default:
        words.push(kind);
        k += 1;
    }
  }
  return words;
}

/**
 * The kernel as one static WebAssembly function driven by the program: two lanes at a time, one order of operations, no fused
 * multiply-add. Null where the platform compiles no WebAssembly (a page whose policy forbids it).
 */
export function wasmKernel(program: Int32Array, size: KernelSize): Kernel | null {
  if (typeof WebAssembly === 'undefined') return null;
  const words = addressed(program, layoutOf(0, size)).length;
  const layout = layoutOf(words, size);
  const pages = Math.ceil(layout.end / 65536);
  const memory = new WebAssembly.Memory({ initial: pages });
  const run = instance(layout, memory, pages);
  if (!run) return null;
  const { buffer } = memory;
  new Int32Array(buffer, programStart, words).set(addressed(program, layout));
  return {
    omega: new Float64Array(buffer, layout.omega, lanes),
    constants: new Float64Array(buffer, layout.constants, size.slots),
    capacitance: new Float64Array(buffer, layout.capacitance, size.varying),
    loss: new Float64Array(buffer, layout.loss, size.varying),
    slots: new Float64Array(buffer, layout.slots, 2 * lanes * size.slots),
    run,
  };
}

function instance({ omega }: Layout, memory: WebAssembly.Memory, pages: number): (() => void) | null {
  try {
    const bytes = kernelModule(programStart, omega, pages);
    const made = new WebAssembly.Instance(new WebAssembly.Module(bytes), { a: { m: memory } });
    return made.exports.run as () => void;
  } catch {
    return null;
  }
}
