import type { JSX } from 'preact';
import type { Glance } from '../../contract/compute.ts';
import type { FileEntry } from '../../contract/files.ts';
import { Mark } from '../parts/mark.tsx';
import { useSession } from '../parts/session-context.ts';
import { fragmentOf } from '../store/route.ts';
import { words } from '../words.ts';
import { BeginJob } from './new-job.tsx';

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
  return (
    <section>
      <h2>{title}</h2>
      {files.length === 0 && <p>{none}</p>}
      <ul class="entries">
        {files.map((file) => (
          <li key={file.path}>
            <a href={fragmentOf({ view: 'sheet', path: file.path })}>{titleOf(file, glances.value.get(file.path))}</a>
            <span class="entry-file">{file.path}</span>
            <time dateTime={file.modified}>{file.modified.slice(0, 10)}</time>
            <Verdict glance={glances.value.get(file.path)} />
            {isBoards && <BeginJob board={file.path} title={titleOf(file, glances.value.get(file.path))} />}
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
