import type { JSX } from 'preact';
import type { SheetField, SheetRow } from '../../contract/compute.ts';
import { Later } from '../parts/later.tsx';
import { useSession } from '../parts/session-context.ts';
import { words } from '../words.ts';
import { Field } from './field.tsx';
import { keepsCharge } from './keeps-charge.ts';
import { rowId } from './row-id.ts';

type Group = keyof typeof words.group;

const groups: readonly Group[] = ['fit', 'pulled', 'why'];

const loadFitting = async () => (await import('../fitting/fitting-view.tsx')).FittingView;

/** The open part of a row: what is fitted, what was pulled, why; and the row's own care. */
export function RowInHand({ row }: { row: SheetRow }): JSX.Element {
  const { rowInHand, edits, file, hand } = useSession();
  const refs = row.refs.join(' ');

  function close(): void {
    hand.rest();
    rowInHand.value = null;
    document.getElementById(rowId(row.key))?.focus();
  }

  return (
    <div
      class="in-hand"
      role="group"
      aria-label={words.row(refs)}
      onKeyDown={(event) => {
        if (event.key === 'Escape' && !event.defaultPrevented) close();
      }}
    >
      {row.fields.length === 0 && <p>{words.inText}</p>}
      {groups.map((group) => (
        <Fields
          key={group}
          group={group}
          row={row}
          fields={row.fields.filter(({ path }) => path.split('.')[0] === group)}
        />
      ))}
      <Later load={loadFitting} row={row} />
      {keepsCharge(row) && <p class="caution">{words.caution.charge}</p>}
      <div class="acts">
        <button type="button" class="quiet" onClick={close}>
          {words.closeRow}
        </button>
        <button
          type="button"
          class="quiet"
          onClick={() => {
            const path = file.peek()?.path;
            if (path !== undefined)
              void edits.editJob(path, { kind: 'remove', position: row.key }, words.removed(refs));
          }}
        >
          {words.remove(refs)}
        </button>
      </div>
    </div>
  );
}

function Fields({
  group,
  row,
  fields,
}: {
  group: Group;
  row: SheetRow;
  fields: readonly SheetField[];
}): JSX.Element | null {
  if (fields.length === 0) return null;
  return (
    <fieldset class={`fields fields-${group}`}>
      <legend>{words.group[group]}</legend>
      {fields.map((field) => (
        <Field key={field.path} row={row} field={field} group={group} />
      ))}
    </fieldset>
  );
}
