import { computed, signal, type ReadonlySignal } from '@preact/signals';
import type { Compute, DragRequest, LiveCurves } from '../../contract/compute.ts';

/** A value under the hand, and what the board does with it. */
export interface Move {
  readonly refs: readonly string[];
  readonly value: number;
  readonly live: LiveCurves | null;
}

export interface Hand {
  /** Null while nothing is moved. */
  readonly move: ReadonlySignal<Move | null>;
  readonly isMoving: ReadonlySignal<boolean>;
  drag(request: DragRequest): void;
  /** What was moved is let go or has become a text. */
  rest(): void;
}

/** At most one move is with the worker; of those that come meanwhile only the newest is asked for. */
export function createHand({ quick, slow }: { readonly quick: Compute; readonly slow: Compute }): Hand {
  const move = signal<Move | null>(null);
  let waiting: DragRequest | null = null;
  let isAsking = false;

  async function ask(): Promise<void> {
    isAsking = true;
    while (waiting !== null) {
      const request: DragRequest = waiting;
      waiting = null;
      const { live } = await quick.drag(request);
      if (move.peek() !== null) move.value = { refs: request.refs, value: request.value, live };
    }
    isAsking = false;
  }

  return {
    move,
    isMoving: computed(() => move.value !== null),
    drag(request) {
      if (move.peek() === null) {
        move.value = { refs: request.refs, value: request.value, live: null };
        void slow.overtake(request.revision);
      }
      waiting = request;
      if (!isAsking) void ask();
    },
    rest() {
      waiting = null;
      move.value = null;
    },
  };
}
