import type { JSX } from 'preact';
import { TextEditor } from './editor/text-editor.tsx';
import { useSession } from './parts/session-context.ts';
import { words } from './words.ts';

/** Letters written within this time, ms, are undone together. */
const oneStep = 2000;

/** A file as text: its faults underlined, its verdict beside it. */
export function TextView({ path }: { path: string }): JSX.Element {
  const { file, bench, subject, edits } = useSession();
  const { value: held } = file;
  const entry = bench.list.value?.files.find((each) => each.path === path);
  const kind = entry === undefined || entry.kind === 'drawer' ? 'other' : entry.kind;
  const opened = subject.opened.value;
  const missing = subject.missing.value;
  return (
    <main id="main" class="text-view" tabIndex={-1}>
      <h1>{path}</h1>
      {missing !== null && <p role="alert">{missing}</p>}
      {held !== null && (
        <TextEditor
          key={`${path} ${kind}`}
          path={path}
          text={held.text}
          kind={kind}
          diagnostics={opened?.ok === false ? opened.diagnostics : []}
          verdict={subject.told.value?.check?.verdict ?? null}
          isOld={subject.toldIsOld.value}
          onChange={(text) => {
            const mark = `text ${Math.floor(performance.now() / oneStep)}`;
            edits.editText(path, text, words.typed(path), mark);
          }}
        />
      )}
    </main>
  );
}
