import stringWidth from 'string-width';

/** Characters that would move the cursor, change the colour or turn the reading direction: a file's text may hold them. */
const commanding = /[\p{Cc}\u2028\u2029\u200E\u200F\u202A-\u202E\u2066-\u2069]+/gu;

const graphemes = new Intl.Segmenter('en', { granularity: 'grapheme' });

/** Foreign text made fit for one terminal line. */
export function oneLine(text: string): string {
  return text.replace(commanding, ' ');
}

/** Terminal cells that the text takes up. */
export function cellsOf(text: string): number {
  return stringWidth(text);
}

/** At most `width` cells of the text, with an ellipsis in the last one where something was cut off. */
export function clip(text: string, width: number): string {
  if (cellsOf(text) <= width) return text;
  if (width < 1) return '';
  let kept = '';
  for (const { segment } of graphemes.segment(text)) {
    if (cellsOf(kept + segment) > width - 1) break;
    kept += segment;
  }
  return `${kept}…`;
}

/** Filled with spaces to `width` cells, or clipped to them. */
export function padEnd(text: string, width: number): string {
  const clipped = clip(text, width);
  return clipped + ' '.repeat(Math.max(0, width - cellsOf(clipped)));
}

export function padStart(text: string, width: number): string {
  const clipped = clip(text, width);
  return ' '.repeat(Math.max(0, width - cellsOf(clipped))) + clipped;
}

/** Lines of at most `width` cells, broken at spaces; a word that is wider is cut in pieces. Never empty. */
export function wrap(text: string, width: number): readonly string[] {
  const room = Math.max(1, width);
  const lines: string[] = [];
  let line = '';
  for (const word of oneLine(text)
    .split(/ +/)
    .flatMap((word) => pieces(word, room))) {
    const joined = line === '' ? word : `${line} ${word}`;
    if (cellsOf(joined) <= room) {
      line = joined;
    } else {
      lines.push(line);
      line = word;
    }
  }
  return [...lines, line];
}

/** Wrapped text behind a lead; the lines after the first hang under the text. */
export function hanging(lead: string, text: string, width: number): readonly string[] {
  const indent = cellsOf(lead);
  return wrap(text, width - indent).map((line, n) => (n === 0 ? lead + line : ' '.repeat(indent) + line));
}

function pieces(word: string, width: number): readonly string[] {
  if (cellsOf(word) <= width) return [word];
  const parts: string[] = [];
  let part = '';
  for (const { segment } of graphemes.segment(word)) {
    if (part !== '' && cellsOf(part + segment) > width) {
      parts.push(part);
      part = '';
    }
    part += segment;
  }
  return [...parts, part];
}
