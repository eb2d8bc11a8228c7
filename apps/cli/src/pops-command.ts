import { Argument, Option, type Command } from 'commander';
import { usualThreshold } from '@curvewright/capture';
import type { Status } from './answering.ts';
import type { Desk } from './desk.ts';
import { aboveZero, decibelsAboveZero, numberAbove } from './options.ts';
import { pops, type PopsOptions } from './verbs/pops.ts';

/** Below this the noise itself pops. */
const leastThreshold = 4;

/** `pops`, which looks through a recording of silence. */
export function addPops(program: Command, desk: Desk, end: (status: Status | Promise<Status>) => void): void {
  program
    .command('pops')
    .description('pops in a recording of silence: clicks, steps, bursts; how high, how often, in which channel')
    .addArgument(new Argument('<wav>', 'the recording, the input shorted and nothing played'))
    .option('--json', 'print one JSON object instead of words')
    .option('--before <wav>', 'a recording from before the repair, to compare with')
    .addOption(
      new Option('--job <file>', "job or board whose gain refers heights to the board's input").conflicts('gain'),
    )
    .addOption(
      new Option('--state <state>', 'of the job: default rebuilt')
        .choices(['drawn', 'found', 'rebuilt'])
        .conflicts('gain'),
    )
    .option('--gain <level>', 'of the board at 1 kHz: 40 dB', decibelsAboveZero)
    .option('--recorder <volts>', 'that are full scale to the recorder, rms', aboveZero('V'))
    .addOption(
      new Option('--threshold <times>', "the noise's standard deviation that a pop stands out by")
        .argParser(numberAbove(leastThreshold))
        .default(usualThreshold),
    )
    .option('--drawings <folder>', 'write the picture of every channel to this folder, as SVG')
    .action((wav: string, options: PopsOptions) => {
      end(pops(wav, options, desk));
    });
}
