import { autocompletion, completionKeymap } from '@codemirror/autocomplete';
import { defaultKeymap, history, historyKeymap } from '@codemirror/commands';
import { yaml } from '@codemirror/lang-yaml';
import { lintKeymap, setDiagnostics } from '@codemirror/lint';
import { EditorState, Transaction, type Extension } from '@codemirror/state';
import { EditorView, keymap, lineNumbers } from '@codemirror/view';
import type { Diagnostic } from '@curvewright/board';
import { codeTheme } from './code-theme.ts';
import { completeBy, helpBy } from './schema-help.ts';
import type { Schema } from './schema-walk.ts';
import { positionOf, underline } from './underline.ts';

export interface CodeEditor {
  /** Takes a text that came from elsewhere; the cursor stays where it can. */
  show(text: string): void;
  mark(diagnostics: readonly Diagnostic[]): void;
  goTo(this: void, place: Diagnostic['place']): void;
  end(): void;
}

interface Setting {
  readonly text: string;
  readonly label: string;
  readonly schema: Schema | null;
  readonly onChange: (text: string) => void;
}

/**
 * An editor in the shadow of `host`: there its style rules are adopted by script, which the page's policy allows, where a
 * style element would not be. Tab leaves it.
 */
export function createCodeEditor(host: HTMLElement, { text, label, schema, onChange }: Setting): CodeEditor {
  const root = host.shadowRoot ?? host.attachShadow({ mode: 'open' });
  const extensions: Extension[] = [
    ...[lineNumbers(), history(), yaml(), codeTheme, EditorView.lineWrapping],
    EditorView.contentAttributes.of({ 'aria-label': label }),
    keymap.of([...completionKeymap, ...lintKeymap, ...historyKeymap, ...defaultKeymap]),
    EditorView.domEventHandlers({ keydown: keepUndo }),
    EditorView.updateListener.of(({ docChanged, state, transactions }) => {
      if (docChanged && !transactions.some((each) => each.annotation(Transaction.remote)))
        onChange(state.doc.toString());
    }),
    ...(schema === null ? [] : [autocompletion({ override: [completeBy(schema)], icons: false }), helpBy(schema)]),
  ];
  const view = new EditorView({ state: EditorState.create({ doc: text, extensions }), parent: root, root });
  return {
    show(next) {
      const now = view.state.doc.toString();
      if (now === next) return;
      view.dispatch({
        changes: difference(now, next),
        annotations: [Transaction.remote.of(true), Transaction.addToHistory.of(false)],
      });
    },
    mark(diagnostics) {
      const { doc } = view.state;
      view.dispatch(
        setDiagnostics(
          view.state,
          diagnostics.map((each) => underline(doc, each)),
        ),
      );
    },
    goTo(place) {
      view.dispatch({ selection: { anchor: positionOf(view.state.doc, place) }, scrollIntoView: true });
      view.focus();
    },
    end() {
      view.destroy();
    },
  };
}

/** What is being written is undone here; the page's own undo, which cannot see into the shadow, is kept out of it. */
function keepUndo(event: KeyboardEvent): boolean {
  if ((event.ctrlKey || event.metaKey) && /^[zy]$/i.test(event.key)) event.stopPropagation();
  return false;
}

/** The one stretch in which two texts differ. */
function difference(now: string, next: string): { from: number; to: number; insert: string } {
  const most = Math.min(now.length, next.length);
  let head = 0;
  while (head < most && now[head] === next[head]) head++;
  let tail = 0;
  while (tail < most - head && now.at(-1 - tail) === next.at(-1 - tail)) tail++;
  return { from: head, to: now.length - tail, insert: next.slice(head, next.length - tail) };
}
