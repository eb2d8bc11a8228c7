import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { change, db } from '@curvewright/report';
import type { CandidateAnswer, Level, PlaceAnswer } from '@curvewright/verify';
import { Mark } from '../parts/mark.tsx';
import type { DrawerStore } from './drawer-store.ts';
import { words } from './words.ts';

interface CandidatesProps {
  readonly store: DrawerStore;
  readonly place: PlaceAnswer;
}

/** Shown before more are asked for. */
const first = 6;

/** One of them is tried at a time, with its reasons beside it; the button writes it into the job. */
export function Candidates({ store, place }: CandidatesProps): JSX.Element {
  const [isAll, showAll] = useState(false);
  const tried = store.tried.value;
  const { candidates, order, planned, refs } = place;
  const shown = isAll ? candidates : candidates.slice(0, first);
  const isTriable = (each: CandidateAnswer): boolean => each.judgedBy !== 'fit alone';
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        // The button goes with what it did: the focus stays at the drawer.
        event.currentTarget.closest('.drawer')?.querySelector('button')?.focus();
        void store.take();
      }}
    >
      <fieldset class="candidates">
        <legend>{words.candidates(refs.join(' '))}</legend>
        <p class="facts">
          {candidates.length === 0 ? words.nothing : `${words.counts(countsOf(candidates))}. ${words.hint}`}
        </p>
        {candidates.length > 0 && (
          <label class="candidate">
            <input type="radio" name="candidate" checked={tried === null} onChange={() => void store.attempt(null)} />
            <span>{words.asItIs(planned)}</span>
          </label>
        )}
        {shown.map((each) => (
          <label key={`${each.stock} ${each.pieces}`} class="candidate">
            <input
              type="radio"
              name="candidate"
              checked={tried === each}
              disabled={!isTriable(each)}
              onChange={() => void store.attempt(each)}
            />
            <span>
              <Mark level={each.verdict} alone /> <strong>{each.stock}</strong> {each.description},{' '}
              {words.pieces(each.takes, each.quantity)}
              <Moves candidate={each} />
              {each.reasons.map((reason) => (
                <span key={reason} class="reason">
                  {reason}
                </span>
              ))}
            </span>
          </label>
        ))}
      </fieldset>
      {order !== null && (
        <p>
          <span class="label">{words.toOrder}</span> {order.words}
        </p>
      )}
      {store.trouble.value !== null && <p role="alert">{store.trouble.value}</p>}
      <div class="acts">
        {tried !== null && <button type="submit">{words.fit(tried.stock)}</button>}
        {shown.length < candidates.length && (
          <button
            type="button"
            class="quiet"
            onClick={() => {
              showAll(true);
            }}
          >
            {words.more(candidates.length - shown.length)}
          </button>
        )}
        <span role="status">{tried === null ? '' : words.trying(tried.stock)}</span>
      </div>
    </form>
  );
}

function Moves({ candidate: { changes } }: { readonly candidate: CandidateAnswer }): JSX.Element {
  const text =
    changes === null
      ? words.byFitAlone
      : words.moves(
          db(changes.curveDb),
          `${Math.round(changes.hz)} Hz`,
          changes.node,
          change(changes.nodeMv / 1000, 'V'),
        );
  return <span class="moves">{text}</span>;
}

function countsOf(candidates: readonly CandidateAnswer[]): Readonly<Record<Level, number>> {
  const counts = { good: 0, look: 0, 'not measured': 0, fail: 0 };
  for (const { verdict } of candidates) counts[verdict]++;
  return counts;
}
