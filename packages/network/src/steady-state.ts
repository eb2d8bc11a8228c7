/** A steady state of the full nonlinear network under a sine into one channel. */
export interface SteadyState {
  /** V rms at the channel's input node (with the network linear, where the source has a resistance). */
  readonly inputVolts: number;
  /** Amplitudes at the output, V, re im pairs: k = 0 (the shift of its DC) up to the highest harmonic solved. */
  readonly output: Float64Array;
  /** What each nonlinear part's departure from its small-signal line brings to `output`; with `linear` they add up to it. */
  readonly parts: readonly { readonly ref: string; readonly output: Float64Array }[];
  /** Amplitude of the fundamental at the output were every part linear, a pair. */
  readonly linear: Float64Array;
  /** Where the search for a state nearby begins. */
  readonly start: Start;
}

/** What a balance held when it settled. */
export interface Start {
  /** Harmonics of the open moves, controls × 2 · harmonics. */
  readonly open: Float64Array;
  /** Moves of the controls, samples × controls. */
  readonly moves: Float64Array;
}
