import type { BenchServer } from '../store/bench-server.ts';
import { recordPath, withDone, type Done } from './record.ts';

/** Other pages may save in between: as often as that the row is put into what they left. */
const attempts = 5;

/** Puts a row into the folder's record; what keeps it from being saved, in words. */
export async function keepDone(server: BenchServer, done: Done): Promise<string | null> {
  const there = await server.read(recordPath);
  let base = there.ok ? there.value : null;
  for (let n = 0; n < attempts; n++) {
    const text = withDone(base?.text ?? null, done);
    const reply = await server.save({ path: recordPath, text, base: base?.version ?? null });
    if (reply.outcome === 'saved') return null;
    if (reply.outcome === 'refused') return reply.message;
    base = reply.theirs;
  }
  return recordPath;
}
