import { signal, type ReadonlySignal, type Signal } from '@preact/signals';
import type { State } from '@curvewright/board';
import type { Drawn, DrawRequest, Views } from '../../contract/views.ts';
import type { SubjectText } from '../../contract/compute.ts';

/** What somebody wants to see on the drawing. */
export interface Wish {
  /** Null: the state on which the verdict rests. */
  readonly state: State | null;
  /** Null: the first. */
  readonly channel: string | null;
  readonly volts: boolean;
  readonly currents: boolean;
  readonly shade: string | null;
  readonly only: 'dc' | 'ac' | null;
  /** Of the reactances. */
  readonly hz: number;
}

export interface DrawingStore {
  readonly wish: Signal<Wish>;
  /** The last that came; null before the first. */
  readonly drawn: ReadonlySignal<Drawn | null>;
  /** Whether another drawing is on its way. */
  readonly isOld: ReadonlySignal<boolean>;
  ask(subject: SubjectText, wanted: Pick<DrawRequest, 'state' | 'channel' | 'title'>): Promise<void>;
}

/** One drawing at a time is with the worker; of the wishes that come meanwhile only the newest is asked for. */
export function drawingStore(views: Views): DrawingStore {
  const wish = signal<Wish>({
    ...{ state: null, channel: null, volts: true, currents: false, shade: null, only: null, hz: 1000 },
  });
  const drawn = signal<Drawn | null>(null);
  const isOld = signal(false);
  let waiting: DrawRequest | null = null;
  let isAsking = false;

  async function askWaiting(): Promise<void> {
    isAsking = true;
    while (waiting !== null) {
      const request: DrawRequest = waiting;
      waiting = null;
      drawn.value = await views.draw(request);
    }
    isAsking = false;
    isOld.value = false;
  }

  return {
    wish,
    drawn,
    isOld,
    async ask(subject, { state, channel, title }) {
      const { volts, currents, shade, only, hz } = wish.peek();
      const shown = only === 'ac' ? { kind: only, hz } : only === 'dc' ? { kind: only } : null;
      waiting = { ...{ subject, state, channel, title, volts, currents, shade }, only: shown };
      isOld.value = true;
      if (!isAsking) await askWaiting();
    },
  };
}
