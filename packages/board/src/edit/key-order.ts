import type { WrittenPath } from './written-path.ts';

/** The order in which a job's keys are usually written; a file that has another order keeps it. */
const jobKeys: readonly string[] = [
  'job',
  'title',
  'board',
  'unit',
  'date',
  'technician',
  'complaint',
  'ambient',
  'positions',
  'added',
  'types',
  'reminders',
  'photos',
  'readings',
  'measured',
  'limits',
  'suspecting',
];
const positionKeys: readonly string[] = ['pulled', 'fit', 'inserted', 'reversed', 'mended', 'why', 'photos'];
const partKeys: readonly string[] = ['type', 'build', 'value', 'tolerance', 'rated', 'esr', 'leakage', 'loss'];

/** How many of the keys that stand at `path` a new one goes behind, where its mapping has a usual order. */
export function placeAmong(path: WrittenPath, keys: readonly string[], key: string): number | null {
  const order = orderAt(path);
  const rank = order.indexOf(key);
  if (rank < 0) return null;
  // A key that the order does not know is followed, never led: it may belong to the one above it.
  const later = new Set(order.slice(rank + 1));
  const first = keys.findIndex((each) => later.has(each));
  return first < 0 ? keys.length : first;
}

function orderAt(path: WrittenPath): readonly string[] {
  if (path.length === 0) return jobKeys;
  if (path[0] !== 'positions' || path.length < 2) return [];
  return path.length === 2 ? positionKeys : partKeys;
}
