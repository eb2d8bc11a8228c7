import type { JSX } from 'preact';
import { termsIn } from '@curvewright/report';
import { words } from './words.ts';

/** What the trade words of some texts mean. */
export function LessonWords({ texts }: { texts: readonly string[] }): JSX.Element {
  return (
    <section class="lesson-words">
      <h2>{words.glossary}</h2>
      <dl>
        {termsIn(texts).map(({ term, meaning }) => (
          <div key={term}>
            <dt>{term}</dt>
            <dd>{meaning}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
