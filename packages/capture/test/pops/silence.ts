/** Seeded noise for recordings of silence; all shares of full scale. */

/** Normally distributed numbers from xoshiro128** (D. Blackman, S. Vigna, 2018; from memory) by the polar method's trigonometric form (G. Box, M. Muller, 1958). */
export function gaussian(seed: number): () => number {
  const state = new Uint32Array([seed, 0x9e3779b9, 0x243f6a88, 0xb7e15162]);
  const uniform = (): number => {
    const [a, b, c, d] = [state[0]!, state[1]!, state[2]!, state[3]!];
    const product = Math.imul(b, 5);
    const result = Math.imul((product << 7) | (product >>> 25), 9) >>> 0;
    state[2] = c ^ a;
    state[3] = d ^ b;
    state[1] = b ^ state[2];
    state[0] = a ^ state[3];
    state[2] = state[2] ^ (b << 9);
    const turned = state[3];
    state[3] = (turned << 11) | (turned >>> 21);
    return (result + 0.5) / 4_294_967_296;
  };
  for (let n = 0; n < 20; n++) uniform();
  let kept: number | null = null;
  return () => {
    if (kept !== null) {
      const value = kept;
      kept = null;
      return value;
    }
    const radius = Math.sqrt(-2 * Math.log(uniform()));
    const angle = 2 * Math.PI * uniform();
    kept = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
}

export interface Silence {
  readonly rate: number;
  readonly seed: number;
  /** Rms of the white noise. */
  readonly white: number;
  /** Rms of 1/f noise in each decade, 1 Hz to 10 kHz; 0 where silent. */
  readonly flicker?: number;
  /** Peak of 50 Hz; its third and fifth harmonics have a half and a fifth of it. */
  readonly hum?: number;
  /** The hiss goes through an equaliser: 3180, 318 and 75 µs. */
  readonly equalised?: boolean;
}

/** Samples of silence without end. 1/f noise is the sum of one relaxation a decade (as in surface trapping: A. L. McWhorter, 1957; from memory). */
export function silence({ rate, seed, white, flicker = 0, hum = 0, equalised = false }: Silence): () => number {
  const next = gaussian(seed);
  const corners = flicker === 0 ? [] : [1, 10, 100, 1000, 10_000];
  const keeps = corners.map((hz) => Math.exp((-2 * Math.PI * hz) / rate));
  const pushes = keeps.map((keep) => flicker * Math.sqrt(1 - keep * keep));
  const states = keeps.map(() => 0);
  const equalise = equaliser(rate);
  let n = 0;
  return () => {
    const hiss = white * next();
    let sum = equalised ? equalise(hiss) : hiss;
    for (let k = 0; k < states.length; k++) sum += states[k] = keeps[k]! * states[k]! + pushes[k]! * next();
    if (hum > 0) {
      const phase = (2 * Math.PI * 50 * n++) / rate;
      sum += hum * (Math.sin(phase) + Math.sin(3 * phase + 1) / 2 + Math.sin(5 * phase + 2) / 5);
    }
    return sum;
  };
}

/** The playback curve's three time constants, each by matching its decay; its gain where it is highest is 1. */
export function equaliser(rate: number): (sample: number) => number {
  const [slow, middle, fast] = [3180e-6, 318e-6, 75e-6].map((time) => Math.exp(-1 / (rate * time)));
  const scale = (1 - slow!) / (1 - middle!);
  let [before, shelf, out] = [0, 0, 0];
  return (sample) => {
    const lifted = scale * (sample - middle! * before) + slow! * shelf;
    before = sample;
    shelf = lifted;
    out = fast! * out + (1 - fast!) * lifted;
    return out;
  };
}
