import type { ComponentChildren, JSX } from 'preact';
import { change, db, none } from '@curvewright/report';
import type { RowEffect, SheetRow } from '../../contract/compute.ts';
import { Mark } from '../parts/mark.tsx';
import { useSession } from '../parts/session-context.ts';
import { unbroken } from '../parts/unbroken.ts';
import { words } from '../words.ts';
import { rowId } from './row-id.ts';
import { RowInHand } from './row-in-hand.tsx';
import { worstOpen } from './worst-open.ts';

interface RowProps {
  row: SheetRow;
  several: boolean;
  columns: number;
}

/** One row; the one in hand opens downwards. */
export function PositionRow({ row, several, columns }: RowProps): JSX.Element {
  const { rowInHand, subject } = useSession();
  const isOpen = rowInHand.value === row.key;
  const refs = row.refs.join(' ');
  const panel = `${rowId(row.key)}-panel`;
  const told = subject.told.value?.rows.find(({ key }) => key === row.key);
  const level = worstOpen(told?.findings ?? []);
  const { column } = words;
  const { effect } = row;
  return (
    <>
      <tr role="row" class={isOpen ? 'position is-open' : 'position'}>
        <th role="rowheader" scope="row">
          <button
            type="button"
            id={rowId(row.key)}
            class="row-key"
            aria-expanded={isOpen}
            aria-controls={isOpen ? panel : undefined}
            onClick={() => {
              rowInHand.value = isOpen ? null : row.key;
            }}
          >
            {refs}
          </button>
          {level !== null && <Mark level={level} alone />}
        </th>
        <Cell name={column.drawn}>{unbroken(row.drawn)}</Cell>
        <Cell name={column.pulled}>{unbroken(row.pulled ?? '')}</Cell>
        <Cell name={column.fitted} class="fitted">
          {row.fitted === null ? <span class="left-in">{words.leftIn}</span> : unbroken(row.fitted)}
          {row.why !== null && <span class="why">{row.why}</span>}
        </Cell>
        <Cell name={`${column.at20Hz}, ${words.db}`} class="number">
          {effect && db(effect.at20HzDb)}
        </Cell>
        <Cell name={`${column.gain}, ${words.db}`} class="number">
          {effect && db(effect.gainDb)}
        </Cell>
        {several && (
          <Cell name={`${column.balance}, ${words.db}`} class="number">
            {effect && (effect.balanceDb === null ? none : db(effect.balanceDb))}
          </Cell>
        )}
        <Cell name={`${column.hiss}, ${words.db}`} class="number">
          {effect && <Hiss now={effect} told={told?.effect ?? null} />}
        </Cell>
        <Cell name={column.bias} class="bias">
          {effect && <Bias effect={effect} />}
        </Cell>
      </tr>
      {isOpen && (
        <tr role="row" class="panel-row">
          <td role="cell" colSpan={columns} id={panel}>
            <RowInHand row={row} />
          </td>
        </tr>
      )}
    </>
  );
}

/** `name` is what a card calls it. */
function Cell({
  name,
  class: kind,
  children,
}: {
  name: string;
  class?: string;
  children: ComponentChildren;
}): JSX.Element {
  const isEmpty = children === '' || children === null;
  return (
    <td role="cell" data-name={name} class={[kind ?? '', isEmpty ? 'is-empty' : ''].join(' ').trim()}>
      {children}
    </td>
  );
}

/** Comes later than the rest: until then what it was before. */
function Hiss({ now, told }: { now: RowEffect; told: RowEffect | null }): JSX.Element {
  if (now.hissDb !== null) return <>{db(now.hissDb)}</>;
  const { toldIsOld } = useSession().subject;
  const known = told?.hissDb ?? null;
  if (known === null) return <>{none}</>;
  return <span class={toldIsOld.value ? 'is-old' : undefined}>{db(known)}</span>;
}

/** Below this a bias stays, mV. */
const least = 0.5;

function Bias({ effect: { node, nodeMv } }: { effect: RowEffect }): JSX.Element {
  if (Math.abs(nodeMv) < least) return <>{words.stays}</>;
  return (
    <span class="moved">
      <span>{node}</span> <span class="number">{change(nodeMv / 1000, 'V')}</span>
    </span>
  );
}
