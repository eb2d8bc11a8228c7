import { access, constants, stat } from 'node:fs/promises';
import type { Conflict, Saved, SaveRequest } from '../contract/files.ts';
import { codeOf, fileTrouble, type Answer } from './answer.ts';
import { fileTextOf, readBytes, versionOf } from './file-text.ts';
import { placeOf } from './folder.ts';
import { keep } from './history.ts';
import { writeBeside } from './write-whole.ts';

export type SaveOutcome =
  { readonly saved: true; readonly answer: Saved } | { readonly saved: false; readonly conflict: Conflict };

/** Saves a file of the bench unless it is no longer what the text was made from. */
export async function saveIn(root: string, { path, text, base }: SaveRequest): Promise<Answer<SaveOutcome>> {
  const place = await placeOf(root, path);
  if (!place.ok) return place;
  const bytes = Buffer.from(text);
  const version = versionOf(bytes);
  const saved: Answer<SaveOutcome> = { ok: true, value: { saved: true, answer: { version } } };
  const there = await bytesThere(place.value, path);
  if (!there.ok) return there;
  const old = there.value;
  if (old !== null && versionOf(old) === version) return saved;
  if ((old === null ? null : versionOf(old)) !== base) return conflictWith(path, old);
  // Both are kept before the file changes: whatever happens from here on, neither text is lost.
  for (const each of old === null ? [bytes] : [old, bytes]) {
    const kept = await keep(root, path, each);
    if (!kept.ok) return kept;
  }
  try {
    if (old !== null) await access(place.value, constants.W_OK);
    const mode = old === null ? null : (await stat(place.value)).mode & 0o777;
    const pending = await writeBeside(place.value, bytes, mode);
    // Another program may have saved while we wrote.
    const now = await bytesThere(place.value, path);
    if (!now.ok || !sameBytes(now.value, old)) {
      await pending.drop();
      return now.ok ? conflictWith(path, now.value) : now;
    }
    await pending.put({ fresh: old === null });
    return saved;
  } catch (trouble) {
    if (old === null && codeOf(trouble) === 'EEXIST') {
      const now = await bytesThere(place.value, path);
      return now.ok ? conflictWith(path, now.value) : now;
    }
    return fileTrouble(path, trouble);
  }
}

/** Null where no file is. */
async function bytesThere(place: string, path: string): Promise<Answer<Buffer | null>> {
  const bytes = await readBytes(place, path);
  return !bytes.ok && bytes.status === 404 ? { ok: true, value: null } : bytes;
}

function sameBytes(one: Buffer | null, other: Buffer | null): boolean {
  return one === null || other === null ? one === other : one.equals(other);
}

function conflictWith(path: string, there: Buffer | null): Answer<SaveOutcome> {
  if (there === null) return { ok: true, value: { saved: false, conflict: { path, text: null, version: null } } };
  const text = fileTextOf(path, there);
  return text.ok ? { ok: true, value: { saved: false, conflict: text.value } } : text;
}
