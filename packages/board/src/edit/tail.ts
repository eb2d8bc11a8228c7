import { lineEnd, lineStart, nextLine, type Entry } from './source.ts';

/**
 * The end of the last line that belongs to an entry of a block: comments that stand further in than its key are its
 * own, those at its key's column or further out are of what follows.
 */
export function tailEnd(text: string, entry: Entry): number {
  const column = entry.start - lineStart(text, entry.start);
  let end = lineEnd(text, entry.end);
  for (let at = nextLine(text, entry.end); at < text.length; at = nextLine(text, at)) {
    const line = text.slice(at, lineEnd(text, at));
    const indent = /^ */.exec(line)?.[0].length ?? 0;
    if (line.trim() === '') continue;
    if (!line.slice(indent).startsWith('#') || indent <= column) break;
    end = lineEnd(text, at);
  }
  return end;
}
