import type { JSX } from 'preact';
import type { SheetView } from '../../contract/compute.ts';
import { useSession } from '../parts/session-context.ts';
import { words } from '../words.ts';
import { AddRow } from './add-row.tsx';
import { PositionRow } from './position-row.tsx';

/** The rework: a row a position, edited where it stands. Roles are written out, for narrow pages show rows as cards. */
export function PositionTable({ view }: { view: SheetView }): JSX.Element {
  const { subject } = useSession();
  const several = view.channels.length > 1;
  const { column, db } = words;
  const heads = [
    ...[column.position, column.drawn, column.pulled, column.fitted].map((name) => ({ name, unit: '' })),
    ...[column.at20Hz, column.gain, ...(several ? [column.balance] : []), column.hiss].map((name) => ({
      name,
      unit: db,
    })),
    { name: column.bias, unit: '' },
  ];
  return (
    <section class={subject.viewIsOld.value ? 'positions is-old' : 'positions'} aria-labelledby="positions-title">
      <h2 id="positions-title">{words.positions}</h2>
      {view.rows.length === 0 ? (
        <p>{words.noPositions}</p>
      ) : (
        <table role="table" aria-describedby="positions-caption">
          <caption id="positions-caption">{words.rowCaption}</caption>
          <thead role="rowgroup">
            <tr role="row">
              {heads.map(({ name, unit }) => (
                <th key={name} role="columnheader" scope="col" class={unit === '' ? undefined : 'number'}>
                  {name}
                  {unit !== '' && <span class="unit"> {unit}</span>}
                </th>
              ))}
            </tr>
          </thead>
          <tbody role="rowgroup">
            {view.rows.map((row) => (
              <PositionRow key={row.key} row={row} several={several} columns={heads.length} />
            ))}
          </tbody>
        </table>
      )}
      <AddRow positions={view.addable} />
    </section>
  );
}
