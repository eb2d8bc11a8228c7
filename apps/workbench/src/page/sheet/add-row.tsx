import type { JSX } from 'preact';
import { useSignal } from '@preact/signals';
import type { AddablePosition } from '../../contract/compute.ts';
import { useSession } from '../parts/session-context.ts';
import { words } from '../words.ts';

/** Adds a row and takes it in hand; what is wrong otherwise, in words. */
export function useAddRow(): (position: AddablePosition) => Promise<string | null> {
  const { edits, rowInHand, file } = useSession();
  return async ({ key, entry }) => {
    const path = file.peek()?.path;
    if (path === undefined) return null;
    const trouble = await edits.editJob(path, { kind: 'add', position: key, entry }, words.added(key));
    if (trouble === null) rowInHand.value = key;
    return trouble;
  };
}

/** A row for any position of the board that has none. */
export function AddRow({ positions }: { positions: readonly AddablePosition[] }): JSX.Element | null {
  const add = useAddRow();
  const chosen = useSignal('');
  const trouble = useSignal<string | null>(null);
  if (positions.length === 0) return null;
  const position = positions.find(({ key }) => key === chosen.value) ?? positions[0];
  return (
    <form
      class="add-row"
      aria-label={words.addRow}
      onSubmit={(event) => {
        event.preventDefault();
        if (position === undefined) return;
        void add(position).then((wrong) => {
          trouble.value = wrong;
        });
      }}
    >
      <label>
        {words.addRowLabel}{' '}
        <select
          value={position?.key}
          onChange={({ currentTarget }) => {
            chosen.value = currentTarget.value;
          }}
        >
          {positions.map(({ key, refs, drawn }) => (
            <option key={key} value={key}>
              {refs.join(' ')} {drawn}
            </option>
          ))}
        </select>
      </label>
      <button type="submit">{words.add}</button>
      {trouble.value !== null && <p role="alert">{trouble.value}</p>}
    </form>
  );
}
