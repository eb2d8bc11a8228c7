import type { JSX } from 'preact';
import type { SheetRow } from '../../contract/compute.ts';
import { viewWorker } from '../parts/view-worker.ts';
import { Drawer } from './drawer.tsx';
import './fitting.css';
import { Leads } from './leads.tsx';

/** Beside a row in hand: how what is fitted goes in, and what else lies in the drawer for it. */
export function FittingView({ row }: { readonly row: SheetRow }): JSX.Element {
  const views = viewWorker();
  return (
    <div class="fitting">
      {row.fitted !== null && <Leads row={row} views={views} />}
      <Drawer row={row} views={views} />
    </div>
  );
}
