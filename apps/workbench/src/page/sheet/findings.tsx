import type { JSX } from 'preact';
import { openFindingGroups, type FindingGroup } from '@curvewright/report';
import type { AddablePosition, SheetView } from '../../contract/compute.ts';
import { Mark } from '../parts/mark.tsx';
import { useSession } from '../parts/session-context.ts';
import { words } from '../words.ts';
import { useAddRow } from './add-row.tsx';
import { LinkedText } from './linked-text.tsx';

/** What is not good: how far off, why, what next; every designator leads to its row. */
export function Findings({ view }: { view: SheetView }): JSX.Element | null {
  const { subject, hand } = useSession();
  const check = subject.told.value?.check ?? null;
  if (check === null) return null;
  const groups = openFindingGroups(check);
  if (groups.length === 0) return null;
  const isOld = subject.toldIsOld.value || hand.isMoving.value;
  return (
    <section class={isOld ? 'findings is-old' : 'findings'} aria-labelledby="findings-title">
      <h2 id="findings-title">{words.findings}</h2>
      <ol>
        {groups.map((group, n) => (
          <Found key={n} group={group} view={view} />
        ))}
      </ol>
    </section>
  );
}

function Found({ group, view }: { group: FindingGroup; view: SheetView }): JSX.Element {
  const { level, head, cause, next, findings } = group;
  const named = new Set(findings.map(({ ref }) => ref));
  const missing = view.addable.filter(({ refs }) => refs.some((ref) => named.has(ref)));
  return (
    <li>
      <Mark level={level} />
      <div>
        <p class="found-head">
          <LinkedText text={head} rows={view.rows} />
        </p>
        <p class="found-cause">
          <LinkedText text={cause} rows={view.rows} />
        </p>
        {next.map((step) => (
          <p key={step} class="found-next">
            <span class="label">{words.next}</span> <LinkedText text={step} rows={view.rows} />
          </p>
        ))}
        {missing.map((position) => (
          <AddFound key={position.key} position={position} />
        ))}
      </div>
    </li>
  );
}

/** A part that no row of the job speaks of yet. */
function AddFound({ position }: { position: AddablePosition }): JSX.Element {
  const add = useAddRow();
  return (
    <button type="button" class="quiet" onClick={() => void add(position)}>
      {words.addRowFor(position.key)}
    </button>
  );
}
