import type { JSX } from 'preact';
import { useSignal } from '@preact/signals';
import type { Glance } from '../../contract/compute.ts';
import type { FileEntry } from '../../contract/files.ts';
import { Mark } from '../parts/mark.tsx';
import { useSession } from '../parts/session-context.ts';
import { fragmentOf } from '../store/route.ts';
import { words } from '../words.ts';
import { NewJob } from './new-job.tsx';

/** The folder: jobs and boards with their verdicts. */
export function BenchListView(): JSX.Element {
  const { bench } = useSession();
  const list = bench.list.value;
  const of = (kind: FileEntry['kind']): readonly FileEntry[] => list?.files.filter((file) => file.kind === kind) ?? [];
  return (
    <main id="main" class="bench-list" tabIndex={-1}>
      <h1>{words.list}</h1>
      {bench.trouble.value !== null && <p role="alert">{bench.trouble.value}</p>}
      {list !== null && (
        <>
          <p class="folder">
            {words.folder} <code>{list.folder}</code>
          </p>
          <Entries title={words.jobs} none={words.noJobs} files={of('job')} />
          <Entries title={words.boards} none={words.noBoards} files={of('board')} isBoards />
        </>
      )}
    </main>
  );
}

interface EntriesProps {
  title: string;
  none: string;
  files: readonly FileEntry[];
  isBoards?: boolean;
}

function Entries({ title, none, files, isBoards = false }: EntriesProps): JSX.Element {
  const { glances } = useSession().bench;
  const begun = useSignal<string | null>(null);
  return (
    <section>
      <h2>{title}</h2>
      {files.length === 0 && <p>{none}</p>}
      <ul class="entries">
        {files.map((file) => (
          <li key={file.path}>
            <a href={fragmentOf({ view: 'sheet', path: file.path })}>{titleOf(file, glances.value.get(file.path))}</a>
            <span class="entry-file">{file.path}</span>
            <time dateTime={file.modified}>{new Date(file.modified).toLocaleDateString()}</time>
            <Verdict glance={glances.value.get(file.path)} />
            {isBoards && (
              <button
                type="button"
                class="quiet"
                aria-expanded={begun.value === file.path}
                aria-label={words.newJobFor(titleOf(file, glances.value.get(file.path)))}
                onClick={() => {
                  begun.value = begun.value === file.path ? null : file.path;
                }}
              >
                {words.newJob}
              </button>
            )}
            {begun.value === file.path && (
              <NewJob
                board={file.path}
                close={() => {
                  begun.value = null;
                }}
              />
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

function titleOf({ path }: FileEntry, glance: Glance | undefined): string {
  return glance?.ok === true ? glance.title : (path.split('/').at(-1) ?? path);
}

function Verdict({ glance }: { glance: Glance | undefined }): JSX.Element {
  if (glance === undefined) return <span class="pending">{words.computing}</span>;
  if (glance.ok) return <Mark level={glance.verdict} />;
  return <span class="mark mark-fail">{words.unreadable}</span>;
}
