/** Which channels a stretch is played on; the other one is silent. */
export type Feed = 'left' | 'right' | 'both';

/** Level over frequency: even, or rising as a record is cut, so that the playback curve makes it even again. */
export type Shaping = 'flat' | 'inverse_riaa';

/** A part of the file. Times are whole frames of the plan's rate, given in seconds from the start of the file. */
interface Stretch {
  readonly at: number;
  readonly seconds: number;
  readonly feeds: Feed;
}

/** A chirp, never shaped, by which a recording is found and its clock compared: rising at the start, falling at the end. */
export interface MarkerSegment extends Stretch {
  readonly kind: 'marker';
  readonly role: 'start' | 'end';
  readonly fromHz: number;
  readonly toHz: number;
}

/** A steady sine. */
export interface LevelSegment extends Stretch {
  readonly kind: 'level';
  readonly hz: number;
}

/**
 * An exponential sweep: sin((ω1·T/R)(e^(t·R/T) − 1)), R = ln(ω2/ω1), T = `seconds` (A. Farina, AES 108th convention, 2000), faded in and out by half
 * cosines within it. Harmonic N of a distorting stage leads by (T/R)·ln N.
 */
export interface SweepSegment extends Stretch {
  readonly kind: 'sweep';
  readonly fromHz: number;
  readonly toHz: number;
  readonly fadeInSeconds: number;
  readonly fadeOutSeconds: number;
}

/** Steady sines one after the other, each with its own place. */
export interface TonesSegment extends Stretch {
  readonly kind: 'tones';
  readonly tones: readonly { readonly hz: number; readonly at: number; readonly seconds: number }[];
}

/** Nothing is played: for hiss, hum and pops. */
export interface SilenceSegment extends Stretch {
  readonly kind: 'silence';
}

export type Segment = MarkerSegment | LevelSegment | SweepSegment | TonesSegment | SilenceSegment;

/** A test signal, whole: what was played, when and how loud. It is written as JSON beside the WAV file. */
export interface SignalPlan {
  /** Version of the format. */
  readonly signal: 1;
  /** Frames a second. */
  readonly rate: number;
  /** Of the whole file. */
  readonly seconds: number;
  readonly shaping: Shaping;
  /** Peak of a sine at 1 kHz and of the markers, in dB re full scale; a shaped stretch lies above it in the treble and below it in the bass. */
  readonly levelDbfs: number;
  /** The highest peak of the file, in dB re full scale. */
  readonly peakDbfs: number;
  /** In the order of their start; the first is the start marker, the last the end marker. */
  readonly segments: readonly Segment[];
}
