import { humLines } from './hum-lines.ts';
import { noisePower, withoutInterface } from './noise-figures.ts';

/** Noise and hum of one channel, 20 Hz to 20 kHz; volts are rms at the board's input, output noise over the gain at 1 kHz. */
export interface ChannelNoise {
  readonly from: 'shorted' | 'silence';
  /** Null: nothing is left of it above the measuring set's own noise. */
  readonly band: NoiseFigure | null;
  readonly aWeighted: NoiseFigure | null;
  /** The measuring set's own noise, dB re the whole, unweighted; null where no loop-back tells it, and nothing is taken off. */
  readonly interfaceDb: number | null;
  readonly spectrum: readonly { readonly hz: number; readonly dbfs: number; readonly inputNv: number | null }[];
  readonly hum: readonly HumReading[];
}

export interface NoiseFigure {
  /** Re full scale, dB. */
  readonly dbfs: number;
  /** Null without a stated level. */
  readonly inputUv: number | null;
  /** Re 5 mV at 1 kHz; without a stated level re the level tone. */
  readonly snrDb: number | null;
}

export interface HumReading {
  readonly hz: number;
  /** As `snrDb`, of the line alone: negative. */
  readonly db: number | null;
  readonly inputUv: number | null;
}

/** What relates full scale to the board's input. */
export interface NoiseScale {
  /** Amplitude at 1 kHz that the level tone comes back with, re full scale; null where it was not measured. */
  readonly tone: number | null;
  /** V rms of the level tone at the board's input; null where none is stated. */
  readonly level: number | null;
}

/** V rms that signal-to-noise is held against where the level is known. */
const programmeVolts = 5e-3;

/** A stretch of a recording in which nothing was played. */
export interface Silence {
  readonly samples: Float64Array;
  readonly rate: number;
}

/** `own` is a silence of the measuring set alone; null where there is none. Null where the silence is too short. */
export function channelNoise(
  from: ChannelNoise['from'],
  { samples, rate }: Silence,
  own: Silence | null,
  { tone, level }: NoiseScale,
): ChannelNoise | null {
  const whole = noisePower(samples, rate);
  if (whole === null) return null;
  const set = own === null ? null : noisePower(own.samples, own.rate);
  /** Rms at the input per rms re full scale. */
  const volts = tone === null || level === null ? null : level / (tone / Math.SQRT2);
  const overReference = (power: number): number | null => {
    if (tone === null) return null;
    return 10 * Math.log10(power) - 20 * Math.log10(volts === null ? tone / Math.SQRT2 : programmeVolts / volts);
  };
  const figure = (power: number, setPower: number): NoiseFigure | null => {
    const left = withoutInterface(power, setPower);
    if (left === null) return null;
    const re = overReference(left);
    return {
      dbfs: dbfs(left),
      inputUv: volts === null ? null : 1e6 * volts * Math.sqrt(left),
      snrDb: re === null ? null : -re,
    };
  };
  return {
    from,
    band: figure(whole.band, set?.band ?? 0),
    aWeighted: figure(whole.aWeighted, set?.aWeighted ?? 0),
    interfaceDb: set === null ? null : 10 * Math.log10(set.band / whole.band),
    spectrum: whole.spectrum.flatMap(({ hz, perHz }, n) => {
      const left = withoutInterface(perHz, set?.spectrum[n]?.perHz ?? 0);
      return left === null
        ? []
        : [{ hz, dbfs: dbfs(left), inputNv: volts === null ? null : 1e9 * volts * Math.sqrt(left) }];
    }),
    hum: humLines(samples, rate).map(({ hz, power }) => ({
      hz,
      db: overReference(power),
      inputUv: volts === null ? null : 1e6 * volts * Math.sqrt(power),
    })),
  };
}

/** Of a mean square: 0 dB is a sine that reaches full scale. */
function dbfs(power: number): number {
  return 10 * Math.log10(2 * power);
}
