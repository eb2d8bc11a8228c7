import { openStore } from '../../src/server/file-store.ts';
import { serve } from '../../src/server/serve.ts';

/** A bench without a page, on the folder that is named, as a process that can be killed; says its address. */
const [, , folder = ''] = process.argv;
const serving = await serve(await openStore(folder, folder), new Map(), 0);
if (!serving.ok) throw new Error(serving.message);
process.stdout.write(`${serving.value.address}\n`);
