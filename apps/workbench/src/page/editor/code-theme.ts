import { HighlightStyle, syntaxHighlighting } from '@codemirror/language';
import type { Extension } from '@codemirror/state';
import { EditorView } from '@codemirror/view';
import { tags } from '@lezer/highlight';

/** In the page's own variables, which reach into the editor's shadow. */
const paper = EditorView.theme({
  '&': { color: 'var(--ink-text)', backgroundColor: 'var(--ink-paper)', fontSize: '0.875rem' },
  '&.cm-focused': { outline: '2px solid var(--ink-rebuilt)', outlineOffset: '2px' },
  '.cm-content': { caretColor: 'var(--ink-text)', fontVariantNumeric: 'tabular-nums' },
  '.cm-cursor': { borderLeftColor: 'var(--ink-text)' },
  '.cm-gutters': { color: 'var(--ink-muted)', backgroundColor: 'var(--ink-paper)', border: 'none' },
  '.cm-activeLine, .cm-activeLineGutter': { backgroundColor: 'transparent' },
  '.cm-lintRange-error': { backgroundImage: 'none', textDecoration: 'underline wavy var(--ink-found)' },
  '.cm-tooltip': {
    color: 'var(--ink-text)',
    backgroundColor: 'var(--ink-paper)',
    border: '1px solid var(--ink-muted)',
  },
  '.cm-tooltip.cm-tooltip-autocomplete > ul > li[aria-selected]': {
    color: 'var(--ink-paper)',
    backgroundColor: 'var(--ink-rebuilt)',
  },
  '.cm-diagnostic-error': { borderLeftColor: 'var(--ink-found)' },
  '.cm-help': { padding: '4px 8px', maxWidth: '30rem', whiteSpace: 'pre-line' },
});

const inks = HighlightStyle.define([
  { tag: [tags.propertyName, tags.definition(tags.propertyName)], color: 'var(--ink-rebuilt)' },
  { tag: tags.comment, color: 'var(--ink-muted)', fontStyle: 'italic' },
]);

export const codeTheme: Extension = [paper, syntaxHighlighting(inks)];
