import { runCommandLine } from './command-line.ts';
import { terminalDesk } from './desk.ts';

/** From a checkout, the first thing a person sees: the verdict on the demo job, and where somebody sits there, the bench. */
const desk = terminalDesk();
const verdict = await runCommandLine(['check', 'seeds/jobs/lk417.job.yaml'], desk);
process.exitCode = verdict === 0 && desk.attended ? await runCommandLine(['open'], desk) : verdict;
