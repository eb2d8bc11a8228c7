import { lanes } from './plain-kernel.ts';
import { operation } from './operations.ts';
import { moduleBytes, wasm } from './wasm-code.ts';

/** Bytes of the lanes' real parts, or of their imaginary parts. */
export const partBytes: number = 8 * lanes;
const groups = Array.from({ length: lanes / 2 }, (_, g) => 16 * g);

/** Integer locals: where the program stands, where a list ends, four addresses; then the vectors. */
const [at, end, first, second, third, fourth] = [0, 1, 2, 3, 4, 5] as const;
const integers = 6;
const held = { re: (g: number) => integers + g / 16, im: (g: number) => integers + groups.length + g / 16 };
const spare = integers + 2 * groups.length;
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

/** d ← d − s·ar in both parts. */
const subtractRealGroup = (g: number): number[] => [
  ...[...get(second), ...loadPair(g), ...set(w)],
  ...[...get(first), ...get(first), ...loadPair(g), ...get(held.re(g)), ...get(w), ...multiplyPairs],
  ...[...subtractPairs, ...storePair(g)],
  ...[...get(first), ...get(first), ...loadPair(partBytes + g), ...get(held.im(g)), ...get(w), ...multiplyPairs],
  ...[...subtractPairs, ...storePair(partBytes + g)],
];

const subtractEach = (group: (g: number) => number[]): number[] => [
  ...[...get(at), ...load(4), ...set(first)],
  ...groups.flatMap((g) => [
    ...[...get(first), ...loadPair(g), ...set(held.re(g))],
    ...[...get(first), ...loadPair(partBytes + g), ...set(held.im(g))],
  ]),
  ...[...get(at), ...load(8), ...advance(12)],
  ...overList(8, [
    ...[...get(at), ...load(0), ...set(first), ...get(at), ...load(4), ...set(second)],
    ...groups.flatMap(group),
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

/** (d, a, b, e, f and three words of padding): d ← (a − b)·(e − f). */
const products: number[] = [
  ...[...get(at), ...load(4), ...advance(8)],
  ...overList(32, [
    ...[...get(at), ...load(4), ...set(first), ...get(at), ...load(8), ...set(second)],
    ...[...get(at), ...load(12), ...set(third), ...get(at), ...load(16), ...set(fourth)],
    ...groups.flatMap((g) => [
      ...[...get(first), ...loadPair(g), ...get(second), ...loadPair(g), ...subtractPairs, ...set(w)],
      ...[...get(first), ...loadPair(partBytes + g), ...get(second), ...loadPair(partBytes + g), ...subtractPairs],
      ...[...set(x), ...get(third), ...loadPair(g), ...get(fourth), ...loadPair(g), ...subtractPairs, ...set(y)],
      ...[...get(third), ...loadPair(partBytes + g), ...get(fourth), ...loadPair(partBytes + g), ...subtractPairs],
      ...[...set(z), ...get(at), ...load(0), ...get(w), ...get(y), ...multiplyPairs],
      ...[...get(x), ...get(z), ...multiplyPairs, ...subtractPairs, ...storePair(g)],
      ...[...get(at), ...load(0), ...get(w), ...get(z), ...multiplyPairs],
      ...[...get(x), ...get(y), ...multiplyPairs, ...addPairs, ...storePair(partBytes + g)],
    ]),
  ]),
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
    [operation.subtract, subtractEach(subtractGroup)],
    [operation.scale, scale],
    [operation.subtractReal, subtractEach(subtractRealGroup)],
    [operation.invert, invert],
    [operation.linear, setLinears(omegaBytes)],
    [operation.constant, setConstants],
    [operation.product, products],
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

/** The whole kernel as a WebAssembly module over a memory of `pages` pages, its program from byte `programBytes` on. */
export function kernelModule(programBytes: number, omegaBytes: number, pages: number): Uint8Array<ArrayBuffer> {
  return moduleBytes(body(programBytes, omegaBytes), integers, 2 * groups.length + 4, pages);
}
