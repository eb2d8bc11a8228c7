/** What was measured of a board, wherever it came from. */
export interface Measurement {
  readonly state: 'found' | 'rebuilt';
  /** Where the plug was: `board`, or another output in words. */
  readonly at: string;
  /** What lies between the board and the plug is in the figures. */
  readonly ofChain: boolean;
  readonly channels: readonly MeasuredChannel[];
  /** What was wrong with the recordings, in words. */
  readonly problems: readonly string[];
}

export interface MeasuredChannel {
  readonly name: string;
  /** At 1 kHz; null where nothing calibrates it. */
  readonly gainDb: number | null;
  /** A-weighted, input shorted, referred to the input. */
  readonly hissUv: number | null;
  readonly points: readonly {
    readonly hz: number;
    /** Re 1 kHz; null where it does not stand out of the noise. */
    readonly deviationDb: number | null;
    /** Standard deviation of the reading. */
    readonly sigmaDb: number;
  }[];
}
