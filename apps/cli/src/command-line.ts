import { Argument, Command, CommanderError, Option } from 'commander';
import type { Status } from './answering.ts';
import type { Desk } from './desk.ts';
import { ambientOption, frequenciesOption, quantityOption } from './options.ts';
import { check, type CheckOptions } from './verbs/check.ts';
import { curve, type CurveOptions } from './verbs/curve.ts';
import { startBench, type NewOptions } from './verbs/new.ts';
import { volts, type VoltsOptions } from './verbs/volts.ts';

/** Runs one command line (without the interpreter and script) and returns its exit status. */
export function runCommandLine(words: readonly string[], desk: Desk): Status {
  let status: Status = 0;
  const program = createProgram(desk, (given) => {
    status = given;
  });
  try {
    program.parse([...words], { from: 'user' });
  } catch (ending) {
    if (!(ending instanceof CommanderError)) throw ending;
    if (ending.exitCode !== 0) return 2;
  }
  return status;
}

function createProgram(desk: Desk, end: (status: Status) => void): Command {
  const program = new Command('curvewright')
    .description('What replaced parts do to a phono (RIAA) equaliser board, before the iron is hot.')
    .exitOverride()
    .configureOutput({
      writeOut: (text) => {
        desk.out(text);
      },
      writeErr: (text) => {
        desk.complain(text);
      },
      getOutHelpWidth: () => desk.width,
    })
    .addHelpText('after', '\nExit status: 0 good or look, 1 fail, 2 unusable input, 3 not measured.');

  onFile(program.command('check'), 'board or job file')
    .description('the verdict: the stage as drawn, found and rebuilt against the RIAA curve')
    .action((file: string, options: CheckOptions) => {
      end(check(file, options, desk));
    });

  onStage(program.command('curve'))
    .description('gain, phase and deviation from the curve')
    .option('--at <frequencies>', 'Hz with commas between: 20,1000', frequenciesOption)
    .addOption(
      new Option('--target <curve>', 'riaa, or riaa-1976 with the 7950 µs term')
        .choices(['riaa', 'riaa-1976'])
        .default('riaa'),
    )
    .option('--csv <file>', 'write a fine table to this file, too')
    .action((file: string, options: CurveOptions) => {
      end(curve(file, options, desk));
    });

  onStage(program.command('volts'))
    .description('the voltage chart: every node and part at the bias, and what the meter reads')
    .option('--meter <resistance>', 'of the meter, where the job does not say: 10 MΩ', quantityOption('Ω'))
    .action((file: string, options: VoltsOptions) => {
      end(volts(file, options, desk));
    });

  program
    .command('new')
    .description('write a commented board and job to fill in')
    .addArgument(new Argument('[folder]', 'where to write them').default('.'))
    .option('--name <name>', 'the unit, in letters, digits and dashes', 'my-unit')
    .action((folder: string, options: NewOptions) => {
      end(startBench(folder, options, desk));
    });
  return program;
}

function onFile(command: Command, what: string): Command {
  return command
    .addArgument(new Argument('<file>', what))
    .option('--json', 'print one JSON object instead of words')
    .option('--ambient <temperature>', 'of every part, instead of the 25 °C or what the job says', ambientOption);
}

function onStage(command: Command): Command {
  return onFile(command, 'board or job file')
    .addOption(new Option('--state <state>', 'of a job: default rebuilt').choices(['drawn', 'found', 'rebuilt']))
    .option('--cartridge <name>', "one of the board's cartridges, with its cable, at the input");
}
