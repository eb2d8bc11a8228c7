import { lstat, realpath } from 'node:fs/promises';
import { basename, dirname, isAbsolute, join, relative, sep } from 'node:path';
import { codeOf, fileTrouble, refused, type Answer } from './answer.ts';

/** What a bench opens and saves; anything else in its folder is no business of a page's. */
const ENDINGS = /\.(ya?ml|csv)$/i;

/** Characters that no file system shares, or that mean something else on one of them: `C:`, `file.yaml:stream`, `..\`. */
// eslint-disable-next-line no-control-regex -- they are what is looked for
const STRANGE = /[\u0000-\u001f\u007f\\:*?"<>|]/;

/** Names that stand for devices wherever they turn up (Microsoft Learn, "Naming Files, Paths, and Namespaces"). */
const DEVICE = /^(con|prn|aux|nul|conin\$|conout\$|com[0-9¹²³]|lpt[0-9¹²³])(\.|$)/i;

/** What is wrong with a path as a page writes it, or null: relative, `/` between, nothing hidden, a file that the bench opens. */
export function pathTrouble(path: string): string | null {
  if (path.length > 1000) return 'the path is longer than 1000 characters; choose shorter names';
  if (STRANGE.test(path)) return `${JSON.stringify(path)} is no path in this folder; write names with / between`;
  if (!path.split('/').every(usable)) return `${path} does not stay in this folder; write names with / between`;
  if (!ENDINGS.test(path)) return `${path} is no file of the bench; name a .yaml, .yml or .csv file`;
  return null;
}

/** A name that stays in its folder on every system: no `..`, nothing hidden, no device, no end that is dropped silently. */
function usable(name: string): boolean {
  return name !== '' && !name.startsWith('.') && !/[. ]$/.test(name) && !DEVICE.test(name);
}

/**
 * Where on the disk a page's path leads, links followed; the file need not be there yet.
 * @param root the folder, its own links followed
 */
export async function placeOf(root: string, path: string): Promise<Answer<string>> {
  const trouble = pathTrouble(path);
  if (trouble !== null) return refused(403, trouble);
  const place = await confined(root, join(root, ...path.split('/')), path);
  if (!place.ok) return place;
  // A link may lead to what the bench hides, and a short name (`CURVEW~1`) stand for it.
  const led = pathTrouble(relative(root, place.value).split(sep).join('/'));
  return led === null ? place : refused(403, `${path} leads to what the bench does not open; name the file itself`);
}

/** The same for a place that the bench itself names, hidden or not. */
export async function confined(root: string, full: string, path: string): Promise<Answer<string>> {
  try {
    const real = await realPlace(full);
    if (real !== null && liesIn(root, real)) return { ok: true, value: real };
    return refused(403, `${path} leads out of this folder; name a file in it`);
  } catch (trouble) {
    return fileTrouble(path, trouble);
  }
}

/** Links followed as far as there is something; null where a link leads nowhere, and so may come to lead anywhere. */
async function realPlace(full: string): Promise<string | null> {
  try {
    return await realpath(full);
  } catch (trouble) {
    if (codeOf(trouble) === 'ELOOP') return null;
    if (codeOf(trouble) !== 'ENOENT') throw trouble;
  }
  if (await isThere(full)) return null;
  const folder = await realPlace(dirname(full));
  return folder === null ? null : join(folder, basename(full));
}

async function isThere(full: string): Promise<boolean> {
  try {
    await lstat(full);
    return true;
  } catch (trouble) {
    if (codeOf(trouble) === 'ENOENT') return false;
    throw trouble;
  }
}

function liesIn(root: string, real: string): boolean {
  const way = relative(root, real);
  return way !== '' && way !== '..' && !way.startsWith(`..${sep}`) && !isAbsolute(way);
}
