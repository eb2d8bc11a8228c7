import type { JSX } from 'preact';
import type { Diagnostic } from '@curvewright/board';
import { words } from '../words.ts';

/** What keeps a text from being computed, each fault at its place. */
export function Trouble({ diagnostics, title }: { diagnostics: readonly Diagnostic[]; title: string }): JSX.Element {
  return (
    <section class="troubles" role="alert">
      <h2>{title}</h2>
      <ul>
        {diagnostics.map(({ place, message }, n) => (
          <li key={n}>
            <code>{words.place(place.file, place.line, place.column)}</code> {message}
          </li>
        ))}
      </ul>
    </section>
  );
}
