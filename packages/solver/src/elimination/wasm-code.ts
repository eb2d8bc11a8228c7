/**
 * Bytes of a WebAssembly module with one exported function `run` over one exported memory (WebAssembly Core Specification 2.0,
 * chapter 5 and the vector instructions). The function is written as a list of instructions by the caller.
 */

type Bytes = readonly number[];

/** Unsigned LEB128. */
function unsigned(value: number): number[] {
  const bytes: number[] = [];
  let rest = value;
  do {
    const low = rest & 0x7f;
    rest >>>= 7;
    bytes.push(rest > 0 ? low | 0x80 : low);
  } while (rest > 0);
  return bytes;
}

/** Signed LEB128. */
function signed(value: number): number[] {
  const bytes: number[] = [];
  let rest = value;
  for (;;) {
    const low = rest & 0x7f;
    rest >>= 7;
    const done = (rest === 0 && (low & 0x40) === 0) || (rest === -1 && (low & 0x40) !== 0);
    bytes.push(done ? low : low | 0x80);
    if (done) return bytes;
  }
}

const int32 = 0x7f;
const vector = 0x7b;
const nothing = 0x40;

export const wasm = {
  get: (local: number): Bytes => [0x20, ...unsigned(local)],
  set: (local: number): Bytes => [0x21, ...unsigned(local)],
  constant: (value: number): Bytes => [0x41, ...signed(value)],
  load: (offset: number): Bytes => [0x28, 2, ...unsigned(offset)],
  add: [0x6a] as Bytes,
  shiftLeft: [0x74] as Bytes,
  equal: [0x46] as Bytes,
  less: [0x49] as Bytes,
  block: (body: Bytes): Bytes => [0x02, nothing, ...body, 0x0b],
  loop: (body: Bytes): Bytes => [0x03, nothing, ...body, 0x0b],
  when: (body: Bytes): Bytes => [0x04, nothing, ...body, 0x0b],
  jump: (depth: number): Bytes => [0x0c, ...unsigned(depth)],
  jumpIf: (depth: number): Bytes => [0x0d, ...unsigned(depth)],
  leave: [0x0f] as Bytes,
  /** Two f64 from memory, one f64 to both places, two f64 to memory. */
  loadPair: (offset: number): Bytes => [0xfd, 0x00, 3, ...unsigned(offset)],
  loadBoth: (offset: number): Bytes => [0xfd, 0x0a, 3, ...unsigned(offset)],
  storePair: (offset: number): Bytes => [0xfd, 0x0b, 3, ...unsigned(offset)],
  onePair: [0xfd, 0x0c, 0, 0, 0, 0, 0, 0, 0xf0, 0x3f, 0, 0, 0, 0, 0, 0, 0xf0, 0x3f] as Bytes,
  zeroPair: [0xfd, 0x0c, ...new Array<number>(16).fill(0)] as Bytes,
  addPairs: [0xfd, 0xf0, 0x01] as Bytes,
  subtractPairs: [0xfd, 0xf1, 0x01] as Bytes,
  multiplyPairs: [0xfd, 0xf2, 0x01] as Bytes,
  dividePairs: [0xfd, 0xf3, 0x01] as Bytes,
  negatePair: [0xfd, 0xed, 0x01] as Bytes,
};

/** A module whose function `run` takes no argument; `integers` and `vectors` count its locals, in this order. */
export function moduleBytes(body: Bytes, integers: number, vectors: number, pages: number): Uint8Array<ArrayBuffer> {
  const code = [2, ...unsigned(integers), int32, ...unsigned(vectors), vector, ...body, 0x0b];
  const section = (id: number, content: Bytes): Bytes => [id, ...unsigned(content.length), ...content];
  const name = (text: string): Bytes => [text.length, ...[...text].map((letter) => letter.charCodeAt(0))];
  return Uint8Array.from([
    ...[0x00, 0x61, 0x73, 0x6d, 1, 0, 0, 0],
    ...section(1, [1, 0x60, 0, 0]),
    ...section(2, [1, ...name('a'), ...name('m'), 2, 0, ...unsigned(pages)]),
    ...section(3, [1, 0]),
    ...section(7, [1, ...name('run'), 0, 0]),
    ...section(10, [1, ...unsigned(code.length), ...code]),
  ]);
}
