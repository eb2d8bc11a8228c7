/** `text` in place of what stands from one offset to another. */
export interface Splice {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** The text with every splice made; none may overlap another, and those at one offset keep their order. */
export function spliced(text: string, splices: readonly Splice[]): string {
  let result = '';
  let at = 0;
  for (const { from, to, text: piece } of splices.toSorted((a, b) => a.from - b.from)) {
    result += text.slice(at, from) + piece;
    at = to;
  }
  return result + text.slice(at);
}
