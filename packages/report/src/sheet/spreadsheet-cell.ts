import { oneLine } from '../cells.ts';

/** Beginnings that a spreadsheet may take for a formula, the wide forms of East Asian keyboards among them. */
const formulaStart = /^\s*[=+\-@\t\r\n＝＋－＠]/;

/** A text from a file made fit for a spreadsheet's cell: one line, and never a formula. */
export function spreadsheetCell(text: string): string {
  return formulaStart.test(text) ? `'${oneLine(text)}` : oneLine(text);
}
