import { gatedSpectrum, gateSize, type Deconvolved, type Gate } from './gates.ts';
import { gatedReader, powerOf, type GatedReader } from './gated-reader.ts';
import { harmonicOrders, type Harmonic } from './harmonic.ts';
import { growthOf, type Pair, type SweepTake } from './sweep-take.ts';

/** What a sweep says at one frequency. */
export interface SweepPoint {
  readonly hz: number;
  /** Gain from played to recorded over the expected one, without the delay. */
  readonly ratio: Pair;
  /** Power of the gain over that of the noise in it, dB; null where there is no quiet to read the noise from. */
  readonly snrDb: number | null;
  /** Orders 2, 3, …; null where the sweep ends below that order. */
  readonly harmonics: readonly (Harmonic | null)[];
}

const highestOrder = Math.max(...harmonicOrders);
/** Hz: below, gates are long, so that a subsonic corner rings out in them; above, short, which lets less noise in. */
const crossover = 200;
/** For the delay alone: as long before as after, so that the noise in it draws to neither side. */
const around: Gate = { before: 3e-3, after: 3e-3 };

/**
 * Response and harmonic distortion from one exponential sweep (A. Farina, AES 108th Convention, 2000): the recording over the even sweep,
 * as spectra, gives the response at lag 0 and harmonic N on its own, `growthOf(take)·ln N` earlier. The response is gated, divided by the `expected`
 * gain from played to recorded (to a factor and a delay), and read by a local fit: what is left is nearly flat, so that gate and fit hardly touch it. Points are where the sweep reaches.
 */
export function sweepResponse(
  take: SweepTake,
  expected: (hz: number) => Pair,
  frequencies: readonly number[],
): readonly SweepPoint[] {
  const { rate, heard, shape } = take;
  const { long, longHarmonic, short } = gatesOf(take);
  const delayS = delayOf(
    gatedSpectrum(heard, 0, around),
    flattening(around, rate, shape, expected, 0),
    rate / gateSize(rate, around),
    take,
  );
  const flat = [long, short].map((gate) => flattening(gate, rate, shape, expected, delayS));
  const [bass, rest] = [long, short].map((gate, n) => gatedReader(take, gate, flat[n]!));
  const [bassHarmonics, harmonics] = [longHarmonic, short].map((gate) => gatedReader(take, gate, null));
  return frequencies.flatMap((hz): SweepPoint[] => {
    const [reader, gate, flattened] = hz < crossover ? [bass!, long, flat[0]!] : [rest!, short, flat[1]!];
    const ratio = reader.value(hz, 0);
    if (ratio === null) return [];
    const bin = Math.round((hz * gateSize(rate, gate)) / rate);
    const fundamental = powerOf(ratio) * powerOf([flattened[2 * bin]!, flattened[2 * bin + 1]!]);
    const noise = reader.noise(hz);
    return [
      {
        hz,
        ratio,
        snrDb: noise === null ? null : 10 * Math.log10(powerOf(ratio) / noise),
        harmonics: harmonicOrders.map((order) =>
          harmonicOf(order, hz, order * hz < crossover ? bassHarmonics! : harmonics!, take, fundamental),
        ),
      },
    ];
  });
}

interface Gates {
  readonly long: Gate;
  readonly longHarmonic: Gate;
  readonly short: Gate;
}

/** No gate reaches over half the way to the image of the next order on either side; those of harmonics up to the highest order neither. */
function gatesOf(take: SweepTake): Gates {
  const stretch = growthOf(take);
  const [later, earlier] = [
    stretch * Math.log(highestOrder / (highestOrder - 1)),
    stretch * Math.log((highestOrder + 1) / highestOrder),
  ];
  return {
    long: { before: 0.4 * stretch * Math.LN2, after: Math.min(1.6, take.seconds / 4) },
    longHarmonic: { before: 0.4 * earlier, after: 0.6 * later },
    short: { before: Math.min(0.02, 0.4 * earlier), after: Math.min(0.1, 0.6 * later) },
  };
}

function harmonicOf(
  order: number,
  hz: number,
  reader: GatedReader,
  take: SweepTake,
  fundamental: number,
): Harmonic | null {
  const value = reader.value(order * hz, -growthOf(take) * Math.log(order));
  const noise = reader.noise(order * hz);
  if (value === null || noise === null) return null;
  return {
    order,
    ratio: Math.sqrt(Math.max(0, powerOf(value) - noise) / fundamental),
    floor: Math.sqrt(noise / fundamental),
  };
}

/** What is expected at each bin of a gate: the sweep's own shape, as the same gate shows it, times the gain, times the delay. */
function flattening(
  gate: Gate,
  rate: number,
  shape: Deconvolved | null,
  expected: (hz: number) => Pair,
  delayS: number,
): Float64Array {
  const size = gateSize(rate, gate);
  const shaped = shape === null ? null : gatedSpectrum(shape, 0, gate);
  const out = new Float64Array(size + 2);
  for (let k = 1; k <= size / 2; k++) {
    const hz = (k * rate) / size;
    const [re, im] = expected(hz);
    const angle = -2 * Math.PI * hz * delayS;
    const [a, b] = shaped === null ? [1, 0] : [shaped[2 * k]!, shaped[2 * k + 1]!];
    const [c, d] = [re * a - im * b, re * b + im * a];
    out[2 * k] = c * Math.cos(angle) - d * Math.sin(angle);
    out[2 * k + 1] = c * Math.sin(angle) + d * Math.cos(angle);
  }
  return out;
}

/**
 * s of the straight line in phase that fits best from 1 kHz to the octave below the sweep's end, by the phase from bin to bin; a bin counts by its power, which
 * is by how little noise there is in it.
 */
function delayOf(heard: Float64Array, flatten: Float64Array, stepHz: number, { highestHz }: SweepTake): number {
  let [re, im] = [0, 0];
  for (let k = Math.ceil(1000 / stepHz); k < Math.floor(highestHz / 2 / stepHz); k++) {
    const [a, b] = turnedBack(heard, flatten, k);
    const [c, d] = turnedBack(heard, flatten, k + 1);
    re += c * a + d * b;
    im += d * a - c * b;
  }
  return -Math.atan2(im, re) / (2 * Math.PI * stepHz);
}

/** A bin less the phase that is expected of it. */
function turnedBack(spectrum: Float64Array, expected: Float64Array, k: number): Pair {
  const [re, im] = [spectrum[2 * k]!, spectrum[2 * k + 1]!];
  const [a, b] = [expected[2 * k]!, expected[2 * k + 1]!];
  const size = Math.hypot(a, b);
  return [(re * a + im * b) / size, (im * a - re * b) / size];
}
