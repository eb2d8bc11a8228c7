import type { z } from 'zod';
import { addFault, field, plainNumber, quantity, strict, type Field } from './fields.ts';
import { defaultRatings, ratingLimits, type RatingLimits } from './rating-limits.ts';

/** Where a finding turns from good to look and from look to fail, in the unit of the limit. */
export interface Bounds {
  readonly good: number;
  readonly look: number;
}

/** Bounds that hold over a band, Hz. */
export interface BandBounds extends Bounds {
  readonly from: number;
  readonly to: number;
}

/** Bounds that hold at one frequency, Hz. */
export interface SpotBounds extends Bounds {
  readonly at: number;
}

/** Every limit the verdict knows, under the names that findings carry. dB, V, Ω, s; percentages as fractions. */
export interface Limits {
  /** dB re 1 kHz, either way. */
  readonly deviation: BandBounds;
  /** dB, lowest. */
  readonly bass: SpotBounds;
  /** dB, either way. */
  readonly treble: BandBounds;
  /** dB, highest. */
  readonly ultrasonic: BandBounds;
  readonly subsonic_high: BandBounds;
  readonly subsonic_low: BandBounds;
  /** dB against drawn, either way. */
  readonly gain: Bounds;
  /** dB between channels. */
  readonly balance: BandBounds;
  /** dB, lowest. */
  readonly crosstalk: SpotBounds;
  /** V referred to the input, A-weighted, highest. */
  readonly hiss: Bounds;
  /** dB re 5 mV programme, highest. */
  readonly hum: Bounds;
  /** V rms at the input, lowest. */
  readonly overload: SpotBounds;
  /** Fraction, highest. */
  readonly distortion: Bounds;
  /** Fraction of `nominal` (Ω), either way. */
  readonly input_resistance: SpotBounds & { readonly nominal: number };
  /** V behind a coupling capacitor, either way. */
  readonly output_dc: Bounds;
  /** Fraction of the drawn voltage, either way; below `floor` (V) of difference nothing is judged. */
  readonly node_volts: Bounds & { readonly floor: number };
  /** Highest Q of any pole, and phase margin in degrees that a good stage has. */
  readonly stability: { readonly q: number; readonly margin: number };
  /** s until every output stays `within` (V) of its settled value, highest. */
  readonly settle: Bounds & { readonly within: number };
  /** What every part may be asked to bear. */
  readonly ratings: RatingLimits;
}

/** What a board or a job writes of the limits; the rest stands as it was. */
export type PartialLimits = { readonly [K in keyof Limits]?: Partial<Limits[K]> };

/** Common practice of the trade, no source. */
export const defaultLimits: Limits = {
  deviation: { good: 0.5, look: 1, from: 30, to: 15e3 },
  bass: { good: -1.5, look: -3, at: 20 },
  treble: { good: 1, look: 2, from: 15e3, to: 20e3 },
  ultrasonic: { good: 6, look: 12, from: 20e3, to: 100e3 },
  subsonic_high: { good: 1.5, look: 3, from: 10, to: 30 },
  subsonic_low: { good: 3, look: 10, from: 2, to: 10 },
  gain: { good: 1, look: 2 },
  balance: { good: 0.5, look: 1, from: 30, to: 15e3 },
  crosstalk: { good: 50, look: 40, at: 1e3 },
  hiss: { good: 0.8e-6, look: 1.5e-6 },
  hum: { good: -70, look: -60 },
  overload: { good: 0.1, look: 0.05, at: 1e3 },
  distortion: { good: 0.001, look: 0.01 },
  input_resistance: { good: 0.05, look: 0.1, nominal: 47e3, at: 1e3 },
  output_dc: { good: 0.002, look: 0.01 },
  node_volts: { good: 0.1, look: 0.2, floor: 0.05 },
  stability: { q: 2, margin: 45 },
  settle: { good: 10, look: 30, within: 0.01 },
  ratings: defaultRatings,
};

/** The default limits with every patch laid over them, key by key; a later patch wins. */
export function mergeLimits(...patches: readonly PartialLimits[]): Limits {
  const merged = Object.keys(defaultLimits).map((name) => {
    const limit = name as keyof Limits;
    return [limit, Object.assign({}, defaultLimits[limit], ...patches.map((patch) => patch[limit]))] as const;
  });
  return Object.fromEntries(merged) as unknown as Limits;
}

type Figures = Record<string, z.ZodExactOptional<Field<number>>>;

const frequency = (description: string, example: string): Figures[string] =>
  quantity('Hz', { description, examples: [example], positive: true }).exactOptional();

/** `good` and `look` in one unit; `lowest` where a value has to stay above them. */
function bounds(
  unit: 'dB' | 'V' | '%' | 's',
  good: string,
  look: string,
  others: Figures,
  lowest = false,
): Field<object> {
  const bound = (description: string, example: string): Figures[string] =>
    quantity(unit, {
      description,
      examples: [example],
      ...(unit === 'dB' ? {} : { notNegative: true as const }),
    }).exactOptional();
  const shape: Figures = {
    good: bound('Good up to here', good),
    look: bound('Worth a look up to here, a fail beyond', look),
    ...others,
  };
  return strict(shape).superRefine((patch, context) => {
    const { good, look, from, to } = patch as Partial<BandBounds>;
    if (good !== undefined && look !== undefined && (lowest ? look > good : look < good))
      addFault(context, { code: 'out-of-range', message: 'is stricter than good; write the wider of the two' }, [
        'look',
      ]);
    if (from !== undefined && to !== undefined && to <= from)
      addFault(context, { code: 'out-of-range', message: 'is not above from; write the higher frequency' }, ['to']);
  });
}

const band = (from: string, to: string): Figures => ({
  from: frequency('Lower end of the band', from),
  to: frequency('Upper end of the band', to),
});
const at = (hz: string): Figures => ({ at: frequency('Frequency', hz) });
const volts = (description: string, example: string): Figures[string] =>
  quantity('V', { description, examples: [example], notNegative: true }).exactOptional();

const degrees: Field<number> = field<number>(
  { type: 'string', description: 'Phase margin in degrees [°]', examples: ['45 °'] },
  (input) => {
    const written = typeof input === 'string' ? /^(\d+(?:\.\d+)?) ?(?:°|deg)$/.exec(input) : null;
    if (written === null) return { code: 'wrong-unit', message: 'needs degrees; write 45 °' };
    const value = Number(written[1]);
    return value <= 180 ? { value } : { code: 'out-of-range', message: `${value}° cannot be; write at most 180 °` };
  },
);

const limitFields: Record<keyof Limits, Field<object>> = {
  deviation: bounds('dB', '0.5 dB', '1 dB', band('30 Hz', '15 kHz')),
  bass: bounds('dB', '-1.5 dB', '-3 dB', at('20 Hz'), true),
  treble: bounds('dB', '1 dB', '2 dB', band('15 kHz', '20 kHz')),
  ultrasonic: bounds('dB', '6 dB', '12 dB', band('20 kHz', '100 kHz')),
  subsonic_high: bounds('dB', '1.5 dB', '3 dB', band('10 Hz', '30 Hz')),
  subsonic_low: bounds('dB', '3 dB', '10 dB', band('2 Hz', '10 Hz')),
  gain: bounds('dB', '1 dB', '2 dB', {}),
  balance: bounds('dB', '0.5 dB', '1 dB', band('30 Hz', '15 kHz')),
  crosstalk: bounds('dB', '50 dB', '40 dB', at('1 kHz'), true),
  hiss: bounds('V', '0.8 µV', '1.5 µV', {}),
  hum: bounds('dB', '-70 dB', '-60 dB', {}),
  overload: bounds('V', '100 mV', '50 mV', at('1 kHz'), true),
  distortion: bounds('%', '0.1 %', '1 %', {}),
  input_resistance: bounds('%', '5 %', '10 %', {
    nominal: quantity('Ω', { description: 'What it should be', examples: ['47 kΩ'], positive: true }).exactOptional(),
    ...at('1 kHz'),
  }),
  output_dc: bounds('V', '2 mV', '10 mV', {}),
  node_volts: bounds('%', '10 %', '20 %', { floor: volts('Differences below it are not judged', '50 mV') }),
  stability: strict({
    q: plainNumber({ description: 'Highest Q of a pole', examples: ['2'], positive: true }).exactOptional(),
    margin: degrees.exactOptional(),
  }),
  settle: bounds('s', '10 s', '30 s', { within: volts('How near the settled value counts as settled', '10 mV') }),
  ratings: ratingLimits,
};

/** `limits:` of a board or a job: any key of any limit, in place of the default. */
export const limits: Field<PartialLimits> = strict(
  Object.fromEntries(Object.entries(limitFields).map(([name, schema]) => [name, schema.exactOptional()])),
).meta({ description: 'Limits of the verdict, in place of the defaults' });
