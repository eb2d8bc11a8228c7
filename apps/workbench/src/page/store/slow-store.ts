import { signal, type ReadonlySignal } from '@preact/signals';
import type { State } from '@curvewright/board';
import type { Compute, SlowAnswers, SlowKind, SubjectText } from '../../contract/compute.ts';

/** What the figures are made of beside the curves. */
export type FigureKind = Exclude<SlowKind, 'told'>;

type AnswersOf<K extends FigureKind> = ReadonlyMap<
  State,
  { readonly revision: number; readonly answer: SlowAnswers[K] }
>;

export type SlowKnown = { readonly [K in FigureKind]: AnswersOf<K> };

/** Answers that follow when the hand rests, each with the revision it is of. */
export interface SlowStore {
  readonly known: ReadonlySignal<SlowKnown>;
  /** What is being computed, and how much of it is done, 0 to 1. */
  readonly inHand: ReadonlySignal<{ readonly kind: FigureKind; readonly share: number } | null>;
  /** One after the other, the state on which the verdict rests first; ends early where something newer is asked for. */
  ask(subject: SubjectText, states: readonly State[]): Promise<void>;
  clear(): void;
}

const nothing: SlowKnown = {
  noise: new Map(),
  loading: new Map(),
  settle: new Map(),
  headroom: new Map(),
  spread: new Map(),
};

/** Of every state, in this order: what is soonest done first. */
const ofStates: readonly FigureKind[] = ['loading', 'settle', 'headroom'];

export function slowStore(slow: Compute): SlowStore {
  const known = signal<SlowKnown>(nothing);
  const inHand = signal<{ readonly kind: FigureKind; readonly share: number } | null>(null);
  let latest = 0;

  /** False where nothing more is wanted of this subject. */
  async function askOne(kind: FigureKind, state: State, subject: SubjectText): Promise<boolean> {
    inHand.value = { kind, share: 0 };
    const outcome = await slow.slow({ kind, subject, state }, (revision, share) => {
      if (revision === latest) inHand.value = { kind, share };
    });
    if (outcome.outcome === 'overtaken' || outcome.revision !== latest) return false;
    const answers = new Map<State, unknown>(known.peek()[kind]);
    if (outcome.outcome === 'answered') answers.set(state, { revision: outcome.revision, answer: outcome.answer });
    else answers.delete(state);
    known.value = { ...known.peek(), [kind]: answers };
    return true;
  }

  return {
    known,
    inHand,
    async ask(subject, states) {
      latest = subject.revision;
      const last = states.at(-1);
      if (last === undefined) return;
      const others = states.slice(0, -1).toReversed();
      const wanted: readonly (readonly [FigureKind, State])[] = [
        ['noise', last],
        ...ofStates.map((kind) => [kind, last] as const),
        ...others.flatMap((state) => ofStates.map((kind) => [kind, state] as const)),
        ['spread', last],
      ];
      for (const [kind, state] of wanted) {
        if (!(await askOne(kind, state, subject))) break;
      }
      if (latest === subject.revision) inHand.value = null;
    },
    clear() {
      latest = 0;
      known.value = nothing;
      inHand.value = null;
    },
  };
}
