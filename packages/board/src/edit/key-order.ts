import { designatorsOf } from '../expand-part.ts';
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
];
const positionKeys: readonly string[] = ['pulled', 'fit', 'inserted', 'reversed', 'mended', 'why'];
const partKeys: readonly string[] = ['type', 'build', 'value', 'tolerance', 'rated', 'esr', 'leakage', 'loss'];

/** How many of the keys that stand at `path` a new one goes behind. */
export function placeAmong(path: WrittenPath, keys: readonly string[], key: string): number {
  if (path.length === 1 && path[0] === 'positions') return besideTwins(keys, key);
  const order = path.length === 0 ? jobKeys : path[0] === 'positions' ? orderBelow(path.length) : [];
  const rank = order.indexOf(key);
  if (rank < 0) return keys.length;
  // A key that the order does not know is followed, never led: it may belong to the one above it.
  const later = new Set(order.slice(rank + 1));
  const first = keys.findIndex((each) => later.has(each));
  return first < 0 ? keys.length : first;
}

function orderBelow(depth: number): readonly string[] {
  return depth === 2 ? positionKeys : partKeys;
}

/** A single designator stands behind the pair that it overrides, anything else at the end. */
function besideTwins(keys: readonly string[], key: string): number {
  const pair = keys.findIndex((each) => each !== key && designatorsOf(each).includes(key));
  return pair < 0 ? keys.length : pair + 1;
}
