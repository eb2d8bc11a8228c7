import type { Status } from '../answering.ts';
import { showInBrowser } from '../browser.ts';
import type { Desk } from '../desk.ts';
import { untilStopped } from '../interrupt.ts';

export interface OpenOptions {
  readonly port: number;
  readonly browser: boolean;
}

/** Where a bench lies that is opened without a name. */
export const usualFolder: string = 'curvewright-bench';

/** Serves the bench's page on a folder of jobs and boards until Ctrl-C. */
export async function open(folder: string, { port, browser }: OpenOptions, desk: Desk): Promise<Status> {
  // Every other verb does without a server.
  const { openBench } = await import('@curvewright/workbench');
  const opened = await openBench({
    folder,
    port,
    tell: (words) => {
      desk.complain(words);
    },
  });
  if (!opened.ok) {
    desk.complain(opened.message);
    return 2;
  }
  const bench = opened.value;
  // From before the person can know that there is something to stop.
  const stopped = untilStopped();
  const begun = bench.copied > 0 ? `, new: ${bench.copied} files to begin with, all invented` : '';
  desk.out(
    `The bench is open on ${bench.folder}${begun}.\n\n  ${bench.address}\n\nOpen that address in a browser on this machine. Ctrl-C ends it.`,
  );
  if (browser && desk.attended) showInBrowser(bench.address);
  await stopped;
  await bench.close();
  return 0;
}
