import { isCollection, isScalar } from 'yaml';
import { isLaidOut, laidOut } from './layout.ts';
import { isBlank, isBlockScalar, layoutAt, lineEnd, rangeOf, type Entry, type Source } from './source.ts';
import type { Splice } from './splice.ts';
import type { Spot } from './spot.ts';
import { flowText, scalarText, type Written } from './written.ts';

/**
 * Writes `value` in place of what stands at the spot; comments inside a value that goes as a whole go with it, the one
 * behind it on its line stays. Null where the spot is the whole file.
 */
export function putValue(source: Source, spot: Spot, value: Written): readonly Splice[] | null {
  const { entry } = spot;
  if (entry === null) return null;
  const { text } = source;
  const start = isBlank(spot.value) ? null : (rangeOf(spot.value)?.[0] ?? null);
  const { opened } = entry;
  if (opened === null) {
    const piece = oneLine(spot, value);
    return [{ from: start ?? entry.end, to: entry.end, text: start === null ? `: ${piece}` : piece }];
  }
  const line = lineEnd(text, opened);
  const inBlock = isCollection(spot.value) && spot.value.flow !== true;
  // What stands in a block begins on a line of its own, but for an item behind its dash.
  const gone: Splice =
    inBlock && start !== null && start > line
      ? { from: line, to: lineEnd(text, entry.end), text: '' }
      : { from: start ?? opened, to: entry.end, text: '' };

  if (!spot.inFlow && isLaidOut(spot.path, value) && !text.slice(opened, entry.end).includes('#')) {
    const lines = laidOut(spot.path, value, layoutAt(source, entry.start));
    const end = lineEnd(text, entry.end);
    return [
      { from: opened, to: entry.end, text: '' },
      { from: end, to: end, text: lines },
    ];
  }
  const piece = oneLine(spot, value);
  if (gone.from === line && inBlock) return [{ from: opened, to: opened, text: ` ${piece}` }, gone];
  return [{ ...gone, text: (start === null ? ' ' : '') + piece + headerNote(text, entry, start) }];
}

function oneLine({ value, inFlow }: Spot, written: Written): string {
  const around = inFlow ? 'flow' : 'block';
  return typeof written === 'string' ? scalarText(written, around, quotesOf(value)) : flowText(written, around);
}

function quotesOf(value: unknown): 'single' | 'double' | undefined {
  if (!isScalar(value)) return undefined;
  return value.type === 'QUOTE_DOUBLE' ? 'double' : value.type === 'QUOTE_SINGLE' ? 'single' : undefined;
}

/** The comment behind the `|` or `>` of a text that is replaced. */
function headerNote(text: string, { value, end }: Entry, start: number | null): string {
  if (start === null || !isBlockScalar(value)) return '';
  return /^\S+(\s+#[^\r\n]*)/.exec(text.slice(start, end))?.[1] ?? '';
}
