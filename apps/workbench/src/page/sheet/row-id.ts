/** The id of the button that opens a row. */
export function rowId(key: string): string {
  return `row-${key.replace('/', '-')}`;
}
