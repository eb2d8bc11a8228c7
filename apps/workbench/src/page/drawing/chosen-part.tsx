import type { JSX } from 'preact';
import { useEffect, useMemo } from 'preact/hooks';
import type { SheetView } from '../../contract/compute.ts';
import type { DrawnPart } from '../../contract/views.ts';
import { useSession } from '../parts/session-context.ts';
import { useAddRow } from '../sheet/add-row.tsx';
import { rowId } from '../sheet/row-id.ts';
import { words } from './words.ts';

interface ChosenPartProps {
  readonly view: SheetView;
  readonly refs: readonly string[];
  readonly parts: readonly DrawnPart[];
}

/** What the value grows by to be seen on the curve. */
const more = 1.1;

/** The way from what is chosen in the drawing to its row, and what a little more of it does to the curve. */
export function ChosenPart({ view, refs, parts }: ChosenPartProps): JSX.Element | null {
  const { hand, subject } = useSession();
  const add = useAddRow();
  // Twins may hold other values: those of the drawn channel alone.
  const own = useMemo(() => parts.filter(({ position }) => refs.includes(position)), [parts, refs]);
  const moved = useMemo(() => own.map(({ ref }) => ref), [own]);
  const isMore = hand.move.value?.refs === moved;
  // Another part is chosen, or the drawing closed: the curve rests.
  useEffect(
    () => () => {
      if (hand.move.peek()?.refs === moved) hand.rest();
    },
    [moved, hand],
  );
  if (refs.length === 0) return null;
  const names = moved.join(' ');
  const row = view.rows.find((each) => each.refs.some((ref) => refs.includes(ref)));
  const addable = view.addable.find((each) => each.refs.some((ref) => refs.includes(ref)));
  const value = own[0]?.value ?? null;
  return (
    <div class="acts stage-chosen">
      {row !== undefined && (
        <button
          type="button"
          class="quiet"
          onClick={() => {
            document.getElementById(rowId(row.key))?.focus();
          }}
        >
          {words.goToRow(row.refs.join(' '))}
        </button>
      )}
      {row === undefined && addable !== undefined && (
        <>
          {words.noRow}
          <button type="button" class="quiet" onClick={() => void add(addable)}>
            {words.addRow(addable.key)}
          </button>
        </>
      )}
      {value !== null && (
        <button
          type="button"
          aria-pressed={isMore}
          onClick={() => {
            if (isMore) hand.rest();
            else hand.drag({ revision: subject.revision.peek(), refs: moved, value: more * value });
          }}
        >
          {words.more(names)}
        </button>
      )}
      <span role="status">{isMore ? words.isMore(names) : ''}</span>
    </div>
  );
}
