import { computed, signal, type ReadonlySignal } from '@preact/signals';
import type { Compute, DragRequest, LiveCurves } from '../../contract/compute.ts';

/** A value under the hand, and what the board does with it. */
export interface Move {
  readonly refs: readonly string[];
  /** Null where not a value is moved but another part is tried. */
  readonly value: number | null;
  readonly live: LiveCurves | null;
}

export interface Hand {
  /** Null while nothing is moved. */
  readonly move: ReadonlySignal<Move | null>;
  readonly isMoving: ReadonlySignal<boolean>;
  drag(request: DragRequest): void;
  /** What is computed already. */
  show(move: Move): void;
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
      if (move.peek()?.refs === request.refs) move.value = { refs: request.refs, value: request.value, live };
    }
    isAsking = false;
  }

  return {
    move,
    isMoving: computed(() => move.value !== null),
    drag(request) {
      const before = move.peek();
      if (before === null) void slow.overtake(request.revision);
      if (before?.refs !== request.refs)
        move.value = { refs: request.refs, value: request.value, live: before?.live ?? null };
      waiting = request;
      if (!isAsking) void ask();
    },
    show(shown) {
      waiting = null;
      move.value = shown;
    },
    rest() {
      waiting = null;
      move.value = null;
    },
  };
}
