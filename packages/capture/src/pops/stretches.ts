/** How a stream is cut: each stretch brings `hop` new samples, and `lead` before and `tail` behind them to see them in their place. */
export interface Cut {
  readonly hop: number;
  readonly lead: number;
  readonly tail: number;
}

/** A stretch of a stream, of which the samples from `from` to before `to` have not been asked about yet. */
export interface Stretch {
  readonly samples: Float64Array;
  readonly from: number;
  readonly to: number;
  /** Of its first sample, in the stream. */
  readonly index: number;
}

export interface Stretches {
  readonly push: (samples: Float32Array | Float64Array) => void;
  /** The end of the stream: the last samples are asked about, in a stretch as long as the others where the stream is. */
  readonly finish: () => void;
}

/** Asks about every sample of a stream once. A stretch's samples may be changed; they hold until the next one. */
export function stretches({ hop, lead, tail }: Cut, ask: (stretch: Stretch) => void): Stretches {
  const longest = lead + hop + tail;
  const kept = new Float64Array(longest + hop);
  const samples = new Float64Array(longest);
  let [filled, index, next] = [0, 0, 0];
  const askUpTo = (end: number): void => {
    const start = Math.max(0, filled - longest);
    samples.set(kept.subarray(start, filled));
    const from = next - index - start;
    ask({ samples: samples.subarray(0, filled - start), from, to: end - index - start, index: index + start });
    next = end;
  };
  return {
    push: (pushed) => {
      for (let taken = 0; taken < pushed.length;) {
        const wanted = next + hop + tail - index - filled;
        const part = pushed.subarray(taken, taken + wanted);
        kept.set(part, filled);
        filled += part.length;
        taken += part.length;
        if (part.length < wanted) return;
        askUpTo(index + filled - tail);
        const dropped = Math.max(0, filled - longest);
        kept.copyWithin(0, dropped, filled);
        index += dropped;
        filled -= dropped;
      }
    },
    finish: () => {
      if (index + filled > next) askUpTo(index + filled);
    },
  };
}
