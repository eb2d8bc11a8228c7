import { useSignal, type Signal } from '@preact/signals';
import type { JobEdit } from '@curvewright/board';
import type { SheetField, SheetRow } from '../../contract/compute.ts';
import { useSession } from '../parts/session-context.ts';
import { words } from '../words.ts';

export interface FieldEdit {
  /** Why the last text was not taken; null where it was. */
  readonly trouble: Signal<string | null>;
  /** Writes a text into the job, an empty one clears the key; true where it was taken. */
  commit(text: string): Promise<boolean>;
}

export function useFieldEdit(row: SheetRow, field: SheetField): FieldEdit {
  const { edits, file, hand } = useSession();
  const trouble = useSignal<string | null>(null);
  return {
    trouble,
    async commit(text) {
      const path = file.peek()?.path;
      const value = text.trim();
      if (path === undefined || value === (field.written ?? '')) {
        trouble.value = null;
        hand.rest();
        return true;
      }
      const refs = row.refs.join(' ');
      const name = words.field[field.path];
      const at = { position: row.key, path: field.path };
      const edit: JobEdit = value === '' ? { kind: 'clear', ...at } : { kind: 'set', ...at, value };
      const what = value === '' ? words.cleared(refs, name) : words.edited(refs, name, value);
      trouble.value = await edits.editJob(path, edit, what);
      if (trouble.value !== null) hand.rest();
      return trouble.value === null;
    },
  };
}
