/** `text` in place of what stands from one offset to another. */
export interface Splice {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** The text with every splice made; none may overlap another. */
export function spliced(text: string, splices: readonly Splice[]): string {
  const ordered = [...splices].sort((a, b) => b.from - a.from || b.to - a.to);
  return ordered.reduce((result, { from, to, text: piece }) => result.slice(0, from) + piece + result.slice(to), text);
}
