import { Argument, type Command } from 'commander';
import type { Status } from './answering.ts';
import type { Desk } from './desk.ts';
import { aboveZero } from './options.ts';
import { listen, type ListenOptions } from './verbs/listen.ts';

/** `listen`, which reads a recording of a test signal. */
export function addListen(program: Command, desk: Desk, end: (status: Status | Promise<Status>) => void): void {
  program
    .command('listen')
    .description(
      'a recording of a test signal: gain, deviation, phase, distortion, balance, crosstalk, hiss and hum of the board',
    )
    .addArgument(new Argument('<wav>', 'the recording'))
    .requiredOption('--signal <file>', 'the .signal.json that was written with the test signal')
    .option('--json', 'print one JSON object instead of words')
    .option('--loopback <wav>', 'the same signal from the player straight to the recorder: takes both off')
    .option('--adapter <file>', 'board file of the adapter before the board, where the loop-back does not hold it')
    .option('--chain <file>', 'board file of what lies between the board and the recorder')
    .option('--at <place>', 'where the plug was: board, or another output in words', 'board')
    .option('--shorted <wav>', 'nothing played and the input shorted: hiss and hum of the board alone')
    .option('--level <volts>', "at the board's input at 1 kHz of the signal, rms: 5 mV", aboveZero('V'))
    .option('--recorder <volts>', 'that are full scale to the recorder, rms', aboveZero('V'))
    .action((wav: string, options: ListenOptions) => {
      end(listen(wav, options, desk));
    });
}
