import type { Place } from './diagnostics.ts';

/**
 * Line and column of an offset in a text. Counted on the text itself: the YAML parser's own counter misses the line
 * ends inside a quotation that is never closed.
 */
export function placesIn(text: string, file: string): (offset: number) => Place {
  const starts = [0];
  for (let end = text.indexOf('\n'); end >= 0; end = text.indexOf('\n', end + 1)) starts.push(end + 1);
  return (offset) => {
    const within = Math.min(offset, text.length);
    let low = 0;
    let high = starts.length;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if ((starts[middle] ?? 0) <= within) low = middle;
      else high = middle;
    }
    return { file, line: low + 1, column: within - (starts[low] ?? 0) + 1 };
  };
}
