import { Argument, type Command } from 'commander';
import type { Status } from './answering.ts';
import type { Desk } from './desk.ts';
import { proof, type ProofOptions } from './verbs/proof.ts';
import { verifyProof } from './verbs/proof-verify.ts';

interface Given extends ProofOptions {
  readonly verify?: string;
}

/** The verb that makes the customer's sheet, and the one that makes it again to compare. */
export function addProof(program: Command, desk: Desk, end: (status: Status | Promise<Status>) => void): void {
  const command = program.command('proof');
  command
    .addArgument(new Argument('[job]', 'job file'))
    .description("the customer's sheet: one HTML file beside the job, with digests of all that it follows from")
    .option('--out <file>', 'the sheet, instead of NAME.proof.html beside the job; the others are named after it')
    .option('--rework', 'the rework sheet, too: NAME.rework.html')
    .option('--pdf', 'print it to NAME.proof.pdf, too, by an installed Chromium')
    .option('--verify <sheet>', 'make a sheet anew from the files that it names, and say what differs')
    .option('--json', 'print one JSON object instead of words')
    .action((job: string | undefined, { verify, ...options }: Given) => {
      if (verify !== undefined && job === undefined) end(verifyProof(verify, options, desk));
      else if (verify === undefined && job !== undefined) end(proof(job, options, desk));
      else command.error('name a job file, or a sheet with --verify');
    });
}
