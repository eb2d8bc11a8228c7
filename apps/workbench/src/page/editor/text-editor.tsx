import type { JSX } from 'preact';
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Diagnostic } from '@curvewright/board';
import type { Level } from '@curvewright/verify';
import { Mark } from '../parts/mark.tsx';
import { words } from '../words.ts';
import type { CodeEditor } from './code-editor.ts';
import { loadSchema, type TextKind } from './load-schema.ts';

interface TextEditorProps {
  readonly path: string;
  readonly text: string;
  readonly kind: TextKind;
  /** Of whatever files; those of this one are underlined. */
  readonly diagnostics: readonly Diagnostic[];
  /** Null where there is none (yet). */
  readonly verdict: Level | null;
  readonly isOld: boolean;
  /** Comes with every letter; `text` follows it without delay. */
  readonly onChange: (text: string) => void;
}

/** A file as text, with what is wrong and what it comes to beside it. One of another path or kind needs another `key`. */
export function TextEditor(props: TextEditorProps): JSX.Element {
  const { path, text, kind, diagnostics, verdict, isOld } = props;
  const host = useRef<HTMLDivElement>(null);
  const onChange = useRef(props.onChange);
  onChange.current = props.onChange;
  const latest = useRef(text);
  latest.current = text;
  const [editor, setEditor] = useState<CodeEditor | null>(null);
  useEffect(() => {
    let made: CodeEditor | null = null;
    let isWanted = true;
    void Promise.all([import('./code-editor.ts'), loadSchema(kind)]).then(([{ createCodeEditor }, schema]) => {
      if (!isWanted || host.current === null) return;
      const label = words.editor.label(path);
      made = createCodeEditor(host.current, {
        ...{ text: latest.current, label, schema },
        onChange: (next) => {
          onChange.current(next);
        },
      });
      setEditor(made);
    });
    return () => {
      isWanted = false;
      made?.end();
    };
  }, [path, kind]);
  // With the drawing, not after it: a letter typed in between would be taken back.
  useLayoutEffect(() => editor?.show(text), [editor, text]);
  useEffect(() => editor?.mark(diagnostics.filter(({ place }) => place.file === path)), [editor, diagnostics, path]);
  return (
    <div class="text-editor">
      <div ref={host} class="text-editor-code">
        {editor === null && <pre>{text}</pre>}
      </div>
      <aside aria-label={words.editor.beside}>
        <p class="text-editor-verdict">
          {verdict === null ? words.noVerdict : <Mark level={verdict} />}
          {isOld && <span class="old">{words.outOfDate}</span>}
        </p>
        {diagnostics.length > 0 && <Faults path={path} diagnostics={diagnostics} goTo={editor?.goTo ?? null} />}
      </aside>
    </div>
  );
}

interface FaultsProps {
  readonly path: string;
  readonly diagnostics: readonly Diagnostic[];
  readonly goTo: CodeEditor['goTo'] | null;
}

function Faults({ path, diagnostics, goTo }: FaultsProps): JSX.Element {
  return (
    <ul class="faults" role="status">
      {diagnostics.map(({ place, message }, n) => {
        const where = words.place(place.file, place.line, place.column);
        return (
          <li key={n}>
            {goTo !== null && place.file === path ? (
              <button
                type="button"
                class="quiet"
                onClick={() => {
                  goTo(place);
                }}
              >
                {where}
              </button>
            ) : (
              where
            )}{' '}
            {message}
          </li>
        );
      })}
    </ul>
  );
}
