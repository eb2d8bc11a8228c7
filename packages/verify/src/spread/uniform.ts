/** The key schedule's third word is the other two with this. */
const parity = 0x1bd11bda;

/**
 * Threefry-2x32 with 20 rounds: two words (32 bits, unsigned) that follow from key and counter alone, in any order of asking (Salmon, Moraes,
 * Dror & Shaw, Parallel random numbers: as easy as 1, 2, 3, SC11, 2011). Written into `words`.
 */
export function threefry(key0: number, key1: number, counter0: number, counter1: number, words: Uint32Array): void {
  let [k0, k1, k2] = [key0, key1, parity ^ key0 ^ key1];
  let a = (counter0 + k0) | 0;
  let b = (counter1 + k1) | 0;
  for (let injection = 1; injection <= 5; injection++) {
    if (injection % 2 === 1) {
      a = (a + b) | 0;
      b = turned(b, 13) ^ a;
      a = (a + b) | 0;
      b = turned(b, 15) ^ a;
      a = (a + b) | 0;
      b = turned(b, 26) ^ a;
      a = (a + b) | 0;
      b = turned(b, 6) ^ a;
    } else {
      a = (a + b) | 0;
      b = turned(b, 17) ^ a;
      a = (a + b) | 0;
      b = turned(b, 29) ^ a;
      a = (a + b) | 0;
      b = turned(b, 16) ^ a;
      a = (a + b) | 0;
      b = turned(b, 24) ^ a;
    }
    const spent = k0;
    k0 = k1;
    k1 = k2;
    k2 = spent;
    a = (a + k0) | 0;
    b = (b + k1 + injection) | 0;
  }
  words[0] = a;
  words[1] = b;
}

function turned(word: number, by: number): number {
  return (word << by) | (word >>> (32 - by));
}

/** Written anew by each draw, so that a million of them leave nothing behind. */
const words = new Uint32Array(2);

/** The draw of one board (counted from 0) in one stream: uniform over 0 … 1, both excluded, with 53 bits. */
export function uniform(seed: number, stream: number, board: number): number {
  threefry(seed | 0, 0, board | 0, stream | 0, words);
  return ((words[0]! >>> 5) * 2 ** 26 + (words[1]! >>> 6) + 0.5) / 2 ** 53;
}

/** The stream of a name: the same part draws the same whatever else stands on the board (FNV-1a with 32 bits; Fowler, Noll & Vo). */
export function streamOf(name: string): number {
  let hash = 0x811c9dc5;
  for (let n = 0; n < name.length; n++) hash = Math.imul(hash ^ name.charCodeAt(n), 0x01000193);
  return hash >>> 0;
}
