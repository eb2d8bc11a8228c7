import type { JSX } from 'preact';
import { useSession } from '../parts/session-context.ts';
import { words } from '../words.ts';
import { Care } from './care.tsx';
import { Findings } from './findings.tsx';
import { HeadLine } from './head-line.tsx';
import { NumbersTable } from './numbers-table.tsx';
import { Plates } from './plates.tsx';
import { PositionTable } from './position-table.tsx';
import { StageSection } from './stage-section.tsx';
import { Trouble } from './trouble.tsx';

/** The job as a sheet: verdict and findings, figures and numbers, the table of positions, what not to forget. */
export function Sheet(): JSX.Element {
  const { subject } = useSession();
  const view = subject.view.value;
  const opened = subject.opened.value;
  const missing = subject.missing.value;
  return (
    <main id="main" class="sheet" tabIndex={-1}>
      {missing !== null && <p role="alert">{missing}</p>}
      {opened?.ok === false && <Trouble title={words.trouble} diagnostics={opened.diagnostics} />}
      {view === null ? (
        missing === null && opened === null && <p class="pending">{words.computing}</p>
      ) : (
        <>
          <HeadLine view={view} />
          <Findings view={view} />
          {view.unsolved.length > 0 && <Trouble title={words.unsolved} diagnostics={view.unsolved} />}
          <div class="plates">
            <Plates view={view} />
            <NumbersTable view={view} />
          </div>
          <StageSection view={view} />
          {view.head !== null && <PositionTable view={view} />}
          <Care view={view} />
        </>
      )}
    </main>
  );
}
