import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { SheetRow } from '../../contract/compute.ts';
import type { Fitted, Views } from '../../contract/views.ts';
import { Mark } from '../parts/mark.tsx';
import { useSession } from '../parts/session-context.ts';
import { Trouble } from '../sheet/trouble.tsx';
import { words } from './words.ts';

/** Case, holes and turn, polarity, the string with its bands: as far as the row has any of them. */
export function Leads({ row, views }: { readonly row: SheetRow; readonly views: Views }): JSX.Element | null {
  const { subject } = useSession();
  const texts = subject.subject.value;
  const [fitted, show] = useState<Fitted | null>(null);
  const key = row.refs.join(' ');
  useEffect(() => {
    let isWanted = true;
    if (texts !== null)
      void views.fit({ subject: texts, refs: row.refs }).then((answer) => {
        if (isWanted) show(answer);
      });
    return () => {
      isWanted = false;
    };
  }, [texts, key]);
  if (fitted === null) return <p class="pending">{words.computing}</p>;
  if (!fitted.ok) return <Trouble title={words.cannot} diagnostics={fitted.diagnostics} />;
  const { drawings, lines, revision } = fitted;
  if (drawings.length === 0 && lines.length === 0) return null;
  return (
    <section class={revision === subject.revision.value ? 'leads' : 'leads is-old'} aria-label={words.leads}>
      <h3>{words.leads}</h3>
      {drawings.map(({ refs, svg }) => (
        <figure key={refs.join(' ')}>
          <figcaption>{words.leadsOf(refs.join(' '))}</figcaption>
          {/* Made by the report, which escapes every foreign text; nothing else comes in here. */}
          <div class="leads-plate" dangerouslySetInnerHTML={{ __html: svg }} />
        </figure>
      ))}
      <ul>
        {lines.map(({ level, cause, next }) => (
          <li key={cause}>
            <Mark level={level} alone /> {cause}
            {next !== null && (
              <>
                {'. '}
                <span class="label">{words.next}</span> {next}
              </>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
