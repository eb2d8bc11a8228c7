import { randomUUID } from 'node:crypto';
import { link, mkdir, open, readdir, rename, stat, unlink } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { codeOf } from './answer.ts';

/** Bytes safe on the disk beside the file whose place they are to take. */
export interface Pending {
  /** In one step, so that a file is always whole, the old or the new; `fresh` throws EEXIST where a file is there. */
  put(how: { readonly fresh: boolean }): Promise<void>;
  drop(): Promise<void>;
}

/** The only place where the bench writes files: whole, and on the disk before it says so. `mode` null: as usual here. */
export async function writeBeside(file: string, bytes: Uint8Array, mode: number | null): Promise<Pending> {
  const folder = dirname(file);
  await mkdir(folder, { recursive: true });
  await dropLeftovers(folder);
  const beside = join(folder, `.saving-${randomUUID()}`);
  const drop = (): Promise<void> => unlink(beside);
  try {
    await writeDown(beside, bytes, mode);
  } catch (trouble) {
    await drop().catch(() => undefined);
    throw trouble;
  }
  return {
    drop,
    put: async ({ fresh }) => {
      try {
        if (fresh) await takeFreePlace(beside, file);
        else await rename(beside, file);
      } catch (trouble) {
        await drop();
        throw trouble;
      }
      await settleFolder(folder);
    },
  };
}

export async function writeWhole(file: string, bytes: Uint8Array): Promise<void> {
  const pending = await writeBeside(file, bytes, null);
  await pending.put({ fresh: false });
}

/** Removes a file that may be gone already. */
export async function dropFile(file: string): Promise<void> {
  try {
    await unlink(file);
  } catch (trouble) {
    if (codeOf(trouble) !== 'ENOENT') throw trouble;
  }
}

async function writeDown(file: string, bytes: Uint8Array, mode: number | null): Promise<void> {
  const handle = await open(file, 'wx');
  try {
    await handle.writeFile(bytes);
    if (mode !== null) await handle.chmod(mode);
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** A second name can be given only where none is, unlike `rename`; disks without second names leave a moment in which one could come. */
async function takeFreePlace(beside: string, file: string): Promise<void> {
  try {
    await link(beside, file);
  } catch (trouble) {
    if (!['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EINVAL', 'EMLINK'].includes(codeOf(trouble))) throw trouble;
    await rename(beside, file);
    return;
  }
  await unlink(beside);
}

/** A new name is safe once its folder is written too; Windows neither needs nor allows it. */
async function settleFolder(folder: string): Promise<void> {
  if (process.platform === 'win32') return;
  const handle = await open(folder, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** ms after which no save is under way any longer. */
const abandoned = 60_000;

/** What a server that was killed in a save left behind. */
async function dropLeftovers(folder: string): Promise<void> {
  const names = (await readdir(folder)).filter((name) => /^\.saving-[0-9a-f-]{36}$/.test(name));
  for (const name of names) {
    const file = join(folder, name);
    try {
      if (Date.now() - (await stat(file)).mtimeMs > abandoned) await unlink(file);
    } catch (trouble) {
      if (codeOf(trouble) !== 'ENOENT') throw trouble;
    }
  }
}
