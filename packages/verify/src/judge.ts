/** The limits that are judged, by their keys. */
export type FigureName =
  | 'deviation'
  | 'bass'
  | 'treble'
  | 'ultrasonic'
  | 'subsonic_high'
  | 'subsonic_low'
  | 'gain'
  | 'balance'
  | 'crosstalk'
  | 'hiss'
  | 'hum'
  | 'overload'
  | 'distortion'
  | 'input_resistance'
  | 'output_dc'
  | 'node_volts'
  | 'stability'
  | 'settle';

/**
 * One number that a limit speaks of. `at least` figures are good at or above their limit, `at most` at or below it,
 * `within` when their magnitude is at or below it.
 */
export interface Judged {
  readonly what: FigureName;
  /** Index of the channel; null for what both make together. */
  readonly channel: number | null;
  readonly value: number;
  readonly unit: 'dB' | '%' | 'mV' | 'µV' | 's' | 'Q' | '°';
  readonly side: 'at least' | 'at most' | 'within';
  readonly good: number;
  readonly look: number;
  /** Frequency at which the value was found, Hz; null for a figure of the bias or of the whole band. */
  readonly hz: number | null;
  /** Where the value was found, in the words of a sentence: `at 20 Hz`, `node e2`. */
  readonly where: string;
}

/** A verdict, worst last but for `not measured`, which stands between look and fail. */
export type Level = 'good' | 'look' | 'not measured' | 'fail';

const order: readonly Level[] = ['good', 'look', 'not measured', 'fail'];

export function worstLevel(levels: readonly Level[]): Level {
  return order[Math.max(0, ...levels.map((level) => order.indexOf(level)))]!;
}

export function isWorse(level: Level, than: Level): boolean {
  return order.indexOf(level) > order.indexOf(than);
}

export function levelOf(figure: Judged, value: number = figure.value): Level {
  if (marginTo(figure, figure.good, value) >= 0) return 'good';
  return marginTo(figure, figure.look, value) >= 0 ? 'look' : 'fail';
}

/** Distance to a limit in the figure's unit, positive inside it. */
export function marginTo(figure: Judged, limit: number, value: number = figure.value): number {
  switch (figure.side) {
    case 'at least':
      return value - limit;
    case 'at most':
      return limit - value;
    case 'within':
      return limit - Math.abs(value);
  }
}
