import type { HeardState } from '../../contract/hear.ts';

/** What can be heard: the file as it is, or a state of the board. */
export type Voice = 'exact' | HeardState['state'];

export interface EarSettings {
  readonly voice: Voice;
  readonly hiss: boolean;
  readonly hum: boolean;
  /** Of 1. */
  readonly volume: number;
}

/** Every state at once, of which one is let through. */
export interface EarGraph {
  set(settings: EarSettings): void;
  /** Sounds from `when` on, context time; ends by `stop`. */
  start(when: number): void;
  stop(): void;
}

/** s of a crossfade: short enough for a comparison, long enough not to click. */
const crossfade = 0.02;

/**
 * Plays a stereo buffer through the filters of all states in step, so that switching is a crossfade between sounds that are there already.
 * `programme`: the buffer's rms, that hiss and hum are held against.
 */
export function earGraph(
  context: BaseAudioContext,
  buffer: AudioBuffer,
  states: readonly HeardState[],
  programme: number,
  loop: boolean,
): EarGraph {
  const master = new GainNode(context, { gain: 0 });
  master.connect(context.destination);
  const sources: AudioBufferSourceNode[] = [];

  function source(of: AudioBuffer, looped: boolean): AudioBufferSourceNode {
    const node = new AudioBufferSourceNode(context, { buffer: of, loop: looped });
    sources.push(node);
    return node;
  }
  function through(input: AudioNode, gain: number): GainNode {
    const node = new GainNode(context, { gain });
    input.connect(node).connect(master);
    return node;
  }

  const music = source(buffer, loop);
  const voices = new Map<Voice, GainNode>([['exact', through(music, 0)]]);
  const hisses = new Map<Voice, GainNode>();
  const hums = new Map<Voice, GainNode>();
  for (const { state, channels } of states) {
    const filter = new ConvolverNode(context, {
      buffer: stereo(
        context,
        channels.map((channel) => channel.filter),
      ),
      disableNormalization: true,
    });
    music.connect(filter);
    voices.set(state, through(filter, 0));
    const noises = [
      [hisses, channels.map((channel) => channel.hiss)],
      [hums, channels.flatMap((channel) => channel.hum ?? [])],
    ] as const;
    for (const [gains, loops] of noises) {
      if (loops.length > 0) gains.set(state, through(scaled(source(stereo(context, loops), true), programme), 0));
    }
  }

  function scaled(input: AudioNode, gain: number): AudioNode {
    const node = new GainNode(context, { gain });
    input.connect(node);
    return node;
  }
  function fade({ gain }: GainNode, to: number): void {
    const now = context.currentTime;
    gain.cancelScheduledValues(now);
    gain.setValueAtTime(gain.value, now);
    gain.linearRampToValueAtTime(to, now + crossfade);
  }

  let isSet = false;
  return {
    set({ voice, hiss, hum, volume }) {
      // The first setting is there at once.
      const move = isSet ? fade : ({ gain }: GainNode, to: number) => void gain.setValueAtTime(to, 0);
      for (const [name, gain] of voices) move(gain, name === voice ? 1 : 0);
      for (const [name, gain] of hisses) move(gain, hiss && name === voice ? 1 : 0);
      for (const [name, gain] of hums) move(gain, hum && name === voice ? 1 : 0);
      move(master, volume);
      isSet = true;
    },
    start(when) {
      for (const each of sources) each.start(when);
    },
    stop() {
      for (const each of sources) each.stop();
      master.disconnect();
    },
  };
}

/** Two channels; a single one is heard on both sides. */
export function stereo(
  context: BaseAudioContext,
  channels: readonly Float32Array<ArrayBuffer>[],
  sampleRate: number = context.sampleRate,
): AudioBuffer {
  const [left, right = left] = channels;
  const buffer = new AudioBuffer({ numberOfChannels: 2, length: left?.length ?? 1, sampleRate });
  [left, right].forEach((samples, n) => {
    if (samples !== undefined) buffer.copyToChannel(samples, n);
  });
  return buffer;
}

/** rms of both channels together. */
export function rmsOf(buffer: AudioBuffer): number {
  let power = 0;
  for (let c = 0; c < buffer.numberOfChannels; c++)
    for (const sample of buffer.getChannelData(c)) power += sample * sample;
  return Math.sqrt(power / (buffer.length * buffer.numberOfChannels));
}
