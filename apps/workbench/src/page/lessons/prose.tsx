import type { JSX } from 'preact';
import { withTerms } from '@curvewright/report';
import { unbroken } from '../parts/unbroken.ts';

/** A text whose trade words are marked as such. */
export function Prose({ text }: { text: string }): JSX.Element {
  return (
    <p>
      {withTerms(unbroken(text)).map(({ text: piece, term }, n) =>
        term === null ? (
          piece
        ) : (
          <span key={n} class="term">
            {piece}
          </span>
        ),
      )}
    </p>
  );
}
