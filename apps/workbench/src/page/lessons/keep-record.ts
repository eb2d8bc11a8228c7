import type { FileText } from '../../contract/files.ts';
import type { BenchServer } from '../store/bench-server.ts';
import { recordPath, withDone, type Done } from './record.ts';
import { words } from './words.ts';

/** Other pages may save in between: as often as that the row is put into what they left. */
const attempts = 5;

export interface Kept {
  /** What stands in the folder now, as far as is known. */
  readonly base: FileText | null;
  /** Why the row is not in it, in words. */
  readonly trouble: string | null;
}

/** Puts a row into the folder's record, which stood at `base` when it was last seen. */
export async function keepDone(server: BenchServer, base: FileText | null, done: Done): Promise<Kept> {
  let there = base;
  for (let n = 0; n < attempts; n++) {
    const text = withDone(there?.text ?? null, done);
    if (text === null) return { base: there, trouble: words.noTable(recordPath) };
    const reply = await server.save({ path: recordPath, text, base: there?.version ?? null });
    if (reply.outcome === 'refused') return { base: there, trouble: reply.message };
    if (reply.outcome === 'saved') {
      return { base: { path: recordPath, text, version: reply.saved.version }, trouble: null };
    }
    there = reply.theirs;
  }
  return { base: there, trouble: words.busy(recordPath) };
}
