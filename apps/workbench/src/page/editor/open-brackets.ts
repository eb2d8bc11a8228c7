/** A mapping or a list in brackets that is open; `from` is where the key or the value in hand begins. */
export interface Frame {
  readonly isMapping: boolean;
  readonly key: string | null;
  readonly from: number;
}

/** The brackets still open at `at` in a value that begins at `from`, outermost first; null inside a comment. */
export function openBrackets(text: string, from: number, at: number): readonly Frame[] | null {
  let open: readonly Frame[] = [];
  let began = from;
  let quote = '';
  for (let i = from; i < at; i++) {
    const letter = text.charAt(i);
    const top = open.at(-1);
    const isFirst = text.slice(began, i).trim() === '';
    if (quote !== '') {
      if (letter === quote) quote = '';
      continue;
    }
    if (letter === '#' && /\s/.test(text.charAt(i - 1))) {
      const end = text.indexOf('\n', i);
      if (end < 0 || end >= at) return null;
      // What follows begins after the comment.
      if (isFirst) began = end;
      if (isFirst && top) open = [...open.slice(0, -1), { ...top, from: end }];
      i = end;
    } else if (isFirst && (letter === '"' || letter === "'")) quote = letter;
    else if (isFirst && (letter === '{' || letter === '[')) {
      began = i + 1;
      open = [...open, { isMapping: letter === '{', key: null, from: began }];
    } else if (top && (letter === '}' || letter === ']')) open = open.slice(0, -1);
    else if (top && letter === ',') {
      began = i + 1;
      open = [...open.slice(0, -1), { ...top, key: null, from: began }];
    } else if (top?.isMapping && top.key === null && letter === ':' && /\s/.test(text.charAt(i + 1) || ' ')) {
      open = [...open.slice(0, -1), { ...top, key: text.slice(began, i).trim(), from: i + 1 }];
      began = i + 1;
    }
  }
  return open;
}
