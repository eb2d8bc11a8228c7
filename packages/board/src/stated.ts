/** The record without the keys whose value is undefined: what a file says, with nothing in place of what it does not. */
export function stated<T extends object>(record: T): { [K in keyof T]?: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(record).filter(([, value]) => value !== undefined)) as {
    [K in keyof T]?: Exclude<T[K], undefined>;
  };
}
