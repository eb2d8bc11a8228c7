import { signal, type ReadonlySignal } from '@preact/signals';
import type { CandidateAnswer, PlaceAnswer } from '@curvewright/verify';
import type { Diagnostic } from '@curvewright/board';
import type { Views } from '../../contract/views.ts';
import type { SubjectText, TextOf } from '../../contract/compute.ts';
import type { Session } from '../store/session.ts';
import { nearestDrawer } from './nearest-drawer.ts';
import { words } from './words.ts';

export type Found =
  | { readonly is: 'computing'; readonly share: number }
  /** In words. */
  | { readonly is: 'missing'; readonly why: string }
  | { readonly is: 'refused'; readonly diagnostics: readonly Diagnostic[] }
  | {
      readonly is: 'found';
      readonly place: PlaceAnswer;
      readonly leftOut: readonly Diagnostic[];
      readonly of: SubjectText;
    };

export interface DrawerStore {
  /** Null before it is looked in. */
  readonly found: ReadonlySignal<Found | null>;
  /** What is tried on the curve; null: the job as it is. */
  readonly tried: ReadonlySignal<CandidateAnswer | null>;
  readonly trouble: ReadonlySignal<string | null>;
  look(subject: SubjectText, refs: readonly string[]): Promise<void>;
  attempt(candidate: CandidateAnswer | null): Promise<void>;
  /** Writes what is tried into the job, as one step. */
  take(): Promise<void>;
  /** Nothing is tried any longer, and the drawer is closed. */
  close(): void;
}

type Bench = Pick<Session, 'hand' | 'files' | 'edits' | 'bench'>;

export function drawerStore({ hand, files, edits, bench }: Bench, views: Views): DrawerStore {
  const found = signal<Found | null>(null);
  const tried = signal<CandidateAnswer | null>(null);
  const trouble = signal<string | null>(null);
  let asked = 0;
  let attempts = 0;
  /** Under this the hand shows what is tried, and is known again. */
  let refsTried: readonly string[] = [];

  function letGo(): void {
    attempts++;
    tried.value = null;
    trouble.value = null;
    if (refsTried.length > 0 && hand.move.peek()?.refs === refsTried) hand.rest();
  }

  async function textAt(path: string): Promise<TextOf | string> {
    const loaded = await files.load(path);
    return loaded.ok ? { path, text: loaded.value } : loaded.message;
  }

  async function solve(candidate: CandidateAnswer): Promise<Awaited<ReturnType<Views['tryOut']>> | null> {
    const now = found.peek();
    if (now?.is !== 'found') return null;
    return views.tryOut({ subject: now.of, refs: now.place.refs, fit: candidate.fit });
  }

  return {
    found,
    tried,
    trouble,
    async look(subject, refs) {
      const mine = ++asked;
      letGo();
      found.value = { is: 'computing', share: 0 };
      const paths = bench.list.peek()?.files.map(({ path }) => path) ?? [];
      const near = nearestDrawer(subject.job?.path ?? '', paths);
      if (near === null) {
        found.value = { is: 'missing', why: words.noDrawer };
        return;
      }
      const [drawer, types] = [await textAt(near.drawer), near.types === null ? null : await textAt(near.types)];
      if (mine !== asked) return;
      const why = [drawer, types].find((each) => typeof each === 'string');
      if (why !== undefined || typeof drawer === 'string' || typeof types === 'string') {
        found.value = { is: 'missing', why: why ?? words.noDrawer };
        return;
      }
      const chosen = await views.choose({ subject, refs, drawer, types }, (_, share) => {
        if (mine === asked) found.value = { is: 'computing', share };
      });
      if (mine !== asked) return;
      if (chosen.ok) found.value = { is: 'found', place: chosen.place, leftOut: chosen.leftOut, of: subject };
      else if (chosen.diagnostics !== null) found.value = { is: 'refused', diagnostics: chosen.diagnostics };
    },
    async attempt(candidate) {
      if (candidate === null) {
        letGo();
        return;
      }
      // Until its curve has come, that of the one before stays.
      const mine = ++attempts;
      tried.value = candidate;
      trouble.value = null;
      const solved = await solve(candidate);
      if (mine !== attempts || solved === null) return;
      if (solved.ok) {
        refsTried = [...(found.peek() as Extract<Found, { is: 'found' }>).place.refs];
        hand.show({ refs: refsTried, value: null, live: solved.live });
      } else {
        hand.rest();
        trouble.value = solved.diagnostics.map(({ message }) => message).join(' ');
      }
    },
    async take() {
      const [candidate, now] = [tried.peek(), found.peek()];
      if (candidate === null || now?.is !== 'found' || now.of.job === null) return;
      const { path, text } = now.of.job;
      const solved = await solve(candidate);
      if (solved?.ok !== true) return;
      // What was typed meanwhile is not written over.
      if (files.textOf(path) !== text) trouble.value = words.changed;
      else edits.editText(path, solved.text, words.fitted(now.place.refs.join(' '), candidate.stock));
    },
    close() {
      asked++;
      letGo();
      found.value = null;
    },
  };
}
