import type { Diagnostic as Underlined } from '@codemirror/lint';
import type { Text } from '@codemirror/state';
import type { Diagnostic } from '@curvewright/board';

/** A fault at its place in the text; one of a place that the text does not have stands at its end. */
export function underline(doc: Text, { place, message }: Diagnostic): Underlined {
  const from = positionOf(doc, place);
  const word = /^[^\s,{}[\]]+/.exec(doc.sliceString(from, doc.lineAt(from).to))?.[0] ?? '';
  return { from, to: from + word.length, severity: 'error', message };
}

export function positionOf(doc: Text, { line, column }: Diagnostic['place']): number {
  const { from, to } = doc.line(Math.min(Math.max(1, line), doc.lines));
  return Math.min(from + column - 1, to);
}
