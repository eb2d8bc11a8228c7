import type { JSX } from 'preact';
import type { SheetRow } from '../../contract/compute.ts';
import { useSession } from '../parts/session-context.ts';
import { unbroken } from '../parts/unbroken.ts';
import { words } from '../words.ts';
import { rowId } from './row-id.ts';

const designator = /\b([A-Z]{1,3}\d[\dA-Z]*)/g;

/** Text whose designators lead to their rows, where they have one. */
export function LinkedText({ text, rows }: { text: string; rows: readonly SheetRow[] }): JSX.Element {
  const { rowInHand } = useSession();
  // Split by a capturing group: every second piece is a designator.
  const pieces = unbroken(text).split(designator);
  return (
    <>
      {pieces.map((piece, n) => {
        const row = n % 2 === 0 ? undefined : rows.find(({ refs }) => refs.includes(piece));
        if (row === undefined) return piece;
        return (
          <button
            key={n}
            type="button"
            class="in-text"
            aria-label={words.goToRow(piece)}
            onClick={() => {
              rowInHand.value = row.key;
              const heading = document.getElementById(rowId(row.key));
              heading?.scrollIntoView({ block: 'center' });
              heading?.focus();
            }}
          >
            {piece}
          </button>
        );
      })}
    </>
  );
}
