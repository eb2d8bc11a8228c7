import { lanes, type Kernel, type KernelSize } from './elimination-kernel.ts';
import { operation } from './operations.ts';
import { moduleBytes, wasm } from './wasm-code.ts';

/** Bytes of a slot, and of a lane group of its real or imaginary parts. */
const slotBytes = 16 * lanes;
const partBytes = 8 * lanes;
const groups = Array.from({ length: lanes / 2 }, (_, g) => 16 * g);

/** Integer locals: where the program stands, where a list ends, three addresses; then the vectors. */
const [at, end, first, second, third] = [0, 1, 2, 3, 4] as const;
const held = { re: (g: number) => 5 + g / 16, im: (g: number) => 5 + groups.length + g / 16 };
const spare = 5 + 2 * groups.length;
const [w, x, y, z] = [spare, spare + 1, spare + 2, spare + 3] as const;

const { get, set, constant, load, loadPair, loadBoth, storePair } = wasm;
const { add, equal, less, addPairs, subtractPairs, multiplyPairs } = wasm;

const advance = (bytes: number): number[] => [...get(at), ...constant(bytes), ...add, ...set(at)];

/** Runs `body` over the pieces of a list of `bytes` each, whose count has just been pushed; the program stands at its first. */
const overList = (bytes: number, body: number[]): number[] => [
  ...constant(Math.log2(bytes)),
  ...wasm.shiftLeft,
  ...get(at),
  ...add,
  ...set(end),
  ...wasm.loop([...body, ...advance(bytes), ...get(at), ...get(end), ...less, ...wasm.jumpIf(0)]),
];

/** d ← (d − sr·ar) + si·ai and (d − sr·ai) − si·ar, the multiplier held in locals. */
const subtractGroup = (g: number): number[] => [
  ...[...get(second), ...loadPair(g), ...set(w), ...get(second), ...loadPair(partBytes + g), ...set(x)],
  ...[...get(first), ...get(first), ...loadPair(g), ...get(held.re(g)), ...get(w), ...multiplyPairs, ...subtractPairs],
  ...[...get(held.im(g)), ...get(x), ...multiplyPairs, ...addPairs, ...storePair(g)],
  ...[...get(first), ...get(first), ...loadPair(partBytes + g), ...get(held.re(g)), ...get(x), ...multiplyPairs],
  ...[...subtractPairs, ...get(held.im(g)), ...get(w), ...multiplyPairs, ...subtractPairs, ...storePair(partBytes + g)],
];

const subtract: number[] = [
  ...[...get(at), ...load(4), ...set(first)],
  ...groups.flatMap((g) => [
    ...[...get(first), ...loadPair(g), ...set(held.re(g))],
    ...[...get(first), ...loadPair(partBytes + g), ...set(held.im(g))],
  ]),
  ...[...get(at), ...load(8), ...advance(12)],
  ...overList(8, [
    ...[...get(at), ...load(0), ...set(first), ...get(at), ...load(4), ...set(second)],
    ...groups.flatMap(subtractGroup),
  ]),
];

const scale: number[] = [
  ...[...get(at), ...load(4), ...set(first), ...get(at), ...load(8), ...set(second)],
  ...groups.flatMap((g) => [
    ...[...get(first), ...loadPair(g), ...set(w), ...get(first), ...loadPair(partBytes + g), ...set(x)],
    ...[...get(second), ...loadPair(g), ...set(y), ...get(second), ...loadPair(partBytes + g), ...set(z)],
    ...[...get(first), ...get(w), ...get(y), ...multiplyPairs, ...get(x), ...get(z), ...multiplyPairs],
    ...[...subtractPairs, ...storePair(g)],
    ...[...get(first), ...get(w), ...get(z), ...multiplyPairs, ...get(x), ...get(y), ...multiplyPairs],
    ...[...addPairs, ...storePair(partBytes + g)],
  ]),
  ...advance(12),
];

const invert: number[] = [
  ...[...get(at), ...load(4), ...set(first)],
  ...groups.flatMap((g) => [
    ...[...get(first), ...loadPair(g), ...set(w), ...get(first), ...loadPair(partBytes + g), ...set(x)],
    ...[...wasm.onePair, ...get(w), ...get(w), ...multiplyPairs, ...get(x), ...get(x), ...multiplyPairs, ...addPairs],
    ...[...wasm.dividePairs, ...set(y)],
    ...[...get(first), ...get(w), ...get(y), ...multiplyPairs, ...storePair(g)],
    ...[...get(first), ...get(x), ...wasm.negatePair, ...get(y), ...multiplyPairs, ...storePair(partBytes + g)],
  ]),
  ...advance(8),
];

/** (slot, address of its constant): re everywhere, im = 0. */
const setConstants: number[] = [
  ...[...get(at), ...load(4), ...advance(8)],
  ...overList(8, [
    ...[...get(at), ...load(0), ...set(first), ...get(at), ...load(4), ...loadBoth(0), ...set(w)],
    ...groups.flatMap((g) => [...get(first), ...get(w), ...storePair(g)]),
    ...groups.flatMap((g) => [...get(first), ...wasm.zeroPair, ...storePair(partBytes + g)]),
  ]),
];

/** (slot, address of its constant, of its C, of its D), ω at `omegaBytes`. */
const setLinears = (omegaBytes: number): number[] => [
  ...[...get(at), ...load(4), ...advance(8)],
  ...overList(16, [
    ...[...get(at), ...load(0), ...set(first), ...get(at), ...load(4), ...loadBoth(0), ...set(w)],
    ...[...get(at), ...load(8), ...loadBoth(0), ...set(x), ...get(at), ...load(12), ...loadBoth(0), ...set(y)],
    ...groups.flatMap((g) => [
      ...[...constant(0), ...loadPair(omegaBytes + g), ...set(z)],
      ...[...get(first), ...get(w), ...get(z), ...get(y), ...multiplyPairs, ...addPairs, ...storePair(g)],
      ...[...get(first), ...get(z), ...get(x), ...multiplyPairs, ...storePair(partBytes + g)],
    ]),
  ]),
];

/** The commonest operation is asked for first. */
function body(programBytes: number, omegaBytes: number): number[] {
  const cases: readonly (readonly [number, number[]])[] = [
    [operation.subtract, subtract],
    [operation.scale, scale],
    [operation.invert, invert],
    [operation.linear, setLinears(omegaBytes)],
    [operation.constant, setConstants],
  ];
  return [
    ...[...constant(programBytes), ...set(at)],
    ...wasm.loop([
      ...[...get(at), ...load(0), ...set(third)],
      ...cases.flatMap(([kind, code]) => [
        ...[...get(third), ...constant(kind), ...equal],
        ...wasm.when([...code, ...wasm.jump(1)]),
      ]),
      ...wasm.leave,
    ]),
  ];
}

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
  for (let k = 0; k < program.length; ) {
    const [kind, one, two] = [program[k]!, program[k + 1]!, program[k + 2]!];
    const list = (from: number, count: number): number[] => [...program.subarray(from, from + count)];
    switch (kind) {
      case operation.subtract:
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
    const bytes = moduleBytes(body(programStart, omega), 5, 2 * groups.length + 4, pages);
    const made = new WebAssembly.Instance(new WebAssembly.Module(bytes), { a: { m: memory } });
    return made.exports.run as () => void;
  } catch {
    return null;
  }
}
