import { resolve } from 'node:path';
import { suspectEvidence } from './suspect/run-suspect.ts';
import { takeProofShots } from '../../apps/cli/test/proof-shots.ts';
import { takeShots } from '../../apps/workbench/test/browser/shots.ts';
import { popsEvidence } from './pops.ts';

const folder = resolve(import.meta.dirname, '../../evidence');

/** What takes too long for every run of the tests, by the name it is asked for; all of it is written into `evidence/`. */
const runs: Readonly<Record<string, () => Promise<readonly string[]>>> = {
  shots: () => takeShots(folder),
  proof: () => takeProofShots(folder),
  pops: () => popsEvidence(folder),
  suspect: () => Promise.resolve(suspectEvidence(folder)),
};

const [name = ''] = process.argv.slice(2);
const run = runs[name];
if (run === undefined) {
  console.error(`no evidence ${name}; write one of ${Object.keys(runs).join(', ')}`);
  process.exitCode = 2;
} else {
  for (const line of await run()) console.log(line);
  // The page builder keeps its threads.
  process.exit(0);
}
