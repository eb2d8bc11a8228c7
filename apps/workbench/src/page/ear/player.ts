import { computed, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import { earGraph, rmsOf, stereo, type EarGraph, type EarSettings, type Voice } from './ear-graph.ts';
import type { SubjectText } from '../../contract/compute.ts';
import type { HeardState } from '../../contract/hear.ts';
import { teaching } from '../parts/teaching.ts';
import { wavOf } from './wav-of.ts';
import { words } from './words.ts';

export interface Loaded {
  readonly name: string;
  readonly buffer: AudioBuffer;
  /** rms. */
  readonly programme: number;
}

/** What plays, and what can be heard of it. */
export interface Player {
  readonly loaded: ReadonlySignal<Loaded | null>;
  readonly states: ReadonlySignal<readonly HeardState[] | null>;
  readonly isBusy: ReadonlySignal<boolean>;
  readonly isPlaying: ReadonlySignal<boolean>;
  readonly trouble: ReadonlySignal<string | null>;
  readonly voice: Signal<Voice>;
  readonly hiss: Signal<boolean>;
  readonly hum: Signal<boolean>;
  /** dB. */
  readonly volume: Signal<number>;
  load(file: File): Promise<void>;
  /** The filters of this subject; what plays goes on with them. */
  compute(subject: SubjectText): Promise<void>;
  play(): Promise<void>;
  stop(): void;
  /** Puts what was set into what plays. */
  apply(): void;
  /** What is heard, at full volume, as a WAV file; null where nothing is loaded. */
  save(): Promise<Blob | null>;
  close(): void;
}

/** MB; decoded it takes ten times as much. */
const largest = 100;

/** dB: one can always turn it up. */
const quiet = -40;

export function createPlayer(): Player {
  const loaded = signal<Loaded | null>(null);
  const states = signal<readonly HeardState[] | null>(null);
  const busy = signal(0);
  const isPlaying = signal(false);
  const trouble = signal<string | null>(null);
  const voice = signal<Voice>('exact');
  const [hiss, hum, volume] = [signal(false), signal(false), signal(quiet)];
  let context: AudioContext | null = null;
  let graph: EarGraph | null = null;

  /** Only once a person has asked for sound. */
  const ready = (): AudioContext => (context ??= new AudioContext());
  const settings = (gain: number): EarSettings => ({
    ...{ voice: voice.peek(), hiss: hiss.peek(), hum: hum.peek(), volume: gain },
  });
  const loudness = (): number => 10 ** (volume.peek() / 20);

  async function working<T>(work: () => Promise<T>): Promise<T> {
    busy.value++;
    try {
      return await work();
    } finally {
      busy.value--;
    }
  }

  async function decoded(file: File): Promise<AudioBuffer | null> {
    try {
      const sound = await ready().decodeAudioData(await file.arrayBuffer());
      return stereo(ready(), [sound.getChannelData(0), sound.getChannelData(Math.min(1, sound.numberOfChannels - 1))]);
    } catch {
      return null;
    }
  }

  function stop(): void {
    graph?.stop();
    graph = null;
    isPlaying.value = false;
  }

  return {
    ...{ loaded, states, isPlaying, trouble, voice, hiss, hum, volume, stop },
    isBusy: computed(() => busy.value > 0),
    load: (file) =>
      working(async () => {
        stop();
        const isTooLarge = file.size > largest * 1e6;
        const buffer = isTooLarge ? null : await decoded(file);
        trouble.value =
          buffer !== null ? null : isTooLarge ? words.tooLarge(file.name, largest) : words.unreadable(file.name);
        loaded.value = buffer === null ? null : { name: file.name, buffer, programme: rmsOf(buffer) };
      }),
    compute: (subject) =>
      working(async () => {
        // What plays would go on as the board was.
        stop();
        const sampleRate = ready().sampleRate;
        const heard = await teaching().hear({ subject, sampleRate });
        states.value = heard.ok ? heard.states : [];
        trouble.value = heard.ok ? null : heard.diagnostics.map(({ message }) => message).join(' ');
      }),
    async play() {
      const [sound, filters] = [loaded.peek(), states.peek()];
      if (sound === null || filters === null) return;
      stop();
      const output = ready();
      await output.resume();
      graph = earGraph(output, sound.buffer, filters, sound.programme, true);
      graph.set(settings(loudness()));
      graph.start(output.currentTime + 0.05);
      isPlaying.value = true;
    },
    apply() {
      graph?.set(settings(loudness()));
    },
    save: () =>
      working(async () => {
        const [sound, filters] = [loaded.peek(), states.peek()];
        if (sound === null || filters === null) return null;
        const { length, sampleRate } = sound.buffer;
        // The filters' tails belong to it.
        const tail = filters[0]?.channels[0]?.filter.length ?? 0;
        const offline = new OfflineAudioContext({ numberOfChannels: 2, length: length + tail, sampleRate });
        const render = earGraph(offline, sound.buffer, filters, sound.programme, false);
        render.set(settings(1));
        render.start(0);
        return wavOf(await offline.startRendering());
      }),
    close() {
      stop();
      void context?.close();
    },
  };
}
