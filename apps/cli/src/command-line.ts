import { Argument, Command, CommanderError, Option } from 'commander';
import type { Status } from './answering.ts';
import type { Desk } from './desk.ts';
import {
  aboveZero,
  ambientOption,
  frequenciesOption,
  meterOption,
  railOption,
  rampOption,
  sourceOption,
  wholeNumber,
  withinOption,
} from './options.ts';
import { addListen } from './listen-command.ts';
import { addPops } from './pops-command.ts';
import { addProof } from './proof-command.ts';
import { addSignal } from './signal-command.ts';
import { check, type CheckOptions } from './verbs/check.ts';
import { choose, type ChooseOptions } from './verbs/choose.ts';
import { crosstalk, type CrosstalkOptions } from './verbs/crosstalk.ts';
import { drawing, type DrawingOptions } from './verbs/drawing.ts';
import { curve, type CurveOptions } from './verbs/curve.ts';
import { explain } from './verbs/explain.ts';
import { fit, type FitOptions } from './verbs/fit.ts';
import { headroom, type HeadroomOptions } from './verbs/headroom.ts';
import { history, type HistoryOptions } from './verbs/history.ts';
import { hum, type HumOptions } from './verbs/hum.ts';
import { influence, type InfluenceOptions } from './verbs/influence.ts';
import { insertions, type InsertionsOptions } from './verbs/insertions.ts';
import { jobs, type JobsOptions } from './verbs/jobs.ts';
import { loading, type LoadingOptions } from './verbs/loading.ts';
import { match, type MatchOptions } from './verbs/match.ts';
import { startBench, type NewOptions } from './verbs/new.ts';
import { noise, type NoiseOptions } from './verbs/noise.ts';
import { open, usualFolder, type OpenOptions } from './verbs/open.ts';
import { poles, type PolesOptions } from './verbs/poles.ts';
import { settle, type SettleOptions } from './verbs/settle.ts';
import { sheet, type SheetOptions } from './verbs/sheet.ts';
import { spread, type SpreadOptions } from './verbs/spread.ts';
import { suspect, type SuspectOptions } from './verbs/suspect.ts';
import { trim, type TrimOptions } from './verbs/trim.ts';
import { volts, type VoltsOptions } from './verbs/volts.ts';

/** Series of preferred values that a shop may buy from. */
const trimSeries = ['E6', 'E12', 'E24', 'E48', 'E96'];

/** Runs one command line (without the interpreter and script) and returns its exit status, at once but for verbs that take their time. */
export function runCommandLine(words: readonly string[], desk: Desk): Status | Promise<Status> {
  let status: Status | Promise<Status> = 0;
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

function createProgram(desk: Desk, end: (status: Status | Promise<Status>) => void): Command {
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
    .option('--meter <resistance>', "the meter's, instead of the job's: 10 MΩ, or 20 kΩ/V with its range", meterOption)
    .option('--range <volts>', 'of a meter in Ω/V: 10 V', aboveZero('V'))
    .action((file: string, options: VoltsOptions) => {
      end(volts(file, options, desk));
    });

  withSource(onStage(program.command('noise')))
    .description('hiss referred to the input, signal to noise, and who makes it')
    .action((file: string, options: NoiseOptions) => {
      end(noise(file, options, desk));
    });

  onStage(program.command('hum'))
    .description("what the supplies' ripple does at the outputs, and what the decouplers hold back")
    .action((file: string, options: HumOptions) => {
      end(hum(file, options, desk));
    });

  onStage(program.command('crosstalk'))
    .description('separation between the channels, both ways')
    .action((file: string, options: CrosstalkOptions) => {
      end(crosstalk(file, options, desk));
    });

  onStage(program.command('loading'))
    .description("what the cartridge sees, and its response into it (the board's first where none is named)")
    .action((file: string, options: LoadingOptions) => {
      end(loading(file, options, desk));
    });

  onStage(program.command('poles'))
    .description('stability: poles and zeros, what moves them, and the margins of the feedback loop')
    .action((file: string, options: PolesOptions) => {
      end(poles(file, options, desk));
    });

  onStage(program.command('drawing'))
    .description("one channel's circuit, drawn as SVG; with --json the place of every part and the drawing in words")
    .option('--channel <name>', 'default the first of the board')
    .option('--volts', 'write the bias voltages at the nodes')
    .option('--currents', 'write the bias currents at the parts')
    .option('--shade <figure>', "by each part's share in bass, treble, gain, hiss, bias, or a node's voltage: c1")
    .addOption(new Option('--only <circuit>', 'what carries the bias (dc), or the signal (ac)').choices(['dc', 'ac']))
    .option('--at <frequency>', 'of the reactances in --only ac: default 1 kHz', aboveZero('Hz'))
    .option('--out <file>', 'write the SVG to this file')
    .action((file: string, options: DrawingOptions) => {
      end(drawing(file, options, desk));
    });

  onStage(program.command('settle'))
    .description('switch-on: how long the outputs take to settle, how far they swing, what every capacitor sees')
    .option('--ramp <time>', 'in which the rails rise: default 0.3 s', rampOption)
    .action((file: string, options: SettleOptions) => {
      end(settle(file, options, desk));
    });

  onStage(program.command('fit'))
    .description(
      'will it fit: ratings with their margins, polarity, lead order and room of every part; strings of diodes',
    )
    .option('--drawings <folder>', 'write the drawings of leads and strings to this folder, as SVG')
    .action((file: string, options: FitOptions) => {
      end(fit(file, options, desk));
    });

  onStage(program.command('insertions'))
    .description('what every wrong insertion of a transistor would show on the meter and in the response')
    .action((file: string, options: InsertionsOptions) => {
      end(insertions(file, options, desk));
    });

  onFile(program.command('choose'), 'job file')
    .addArgument(new Argument('[position]', 'one designator; without it every position of the job'))
    .description("which of the drawer's parts serve: each simulated in place, ranked, with what speaks against it")
    .option('--drawer <file>', 'a table of stock (CSV): default the nearest drawer.csv, with its drawer.types.yaml')
    .option('--all', 'also the smallest set of changes over all positions that makes the job pass')
    .action((file: string, position: string | undefined, options: ChooseOptions) => {
      end(choose(file, position, options, desk));
    });

  onFile(program.command('suspect'), 'job file')
    .description('which fault explains the readings and what is heard, and what to measure next')
    .addOption(
      new Option('--state <state>', 'the readings of which state: default that of the last').choices([
        'found',
        'rebuilt',
      ]),
    )
    .option('--cartridge <name>', "one of the board's cartridges at the input; default 0 Ω")
    .action((file: string, options: SuspectOptions) => {
      end(suspect(file, options, desk));
    });

  program
    .command('match')
    .description('of a bag of measured pieces the two, or four, with which left and right are most alike on the board')
    .addArgument(
      new Argument('<readings>', 'a table of pieces (CSV): piece, hfe, vbe, vbe_at, value, esr, leakage, loss …'),
    )
    .addArgument(new Argument('<positions...>', 'one position for a pair; two that share the bag for a four'))
    .requiredOption('--for <file>', 'board or job file')
    .option('--json', 'print one JSON object instead of words')
    .addOption(stateOption())
    .action((readings: string, positions: readonly string[], options: MatchOptions) => {
      end(match(readings, positions, options, desk));
    });

  onStage(program.command('trim'))
    .addArgument(new Argument('<positions...>', 'up to four resistors and capacitors of the equaliser: R119 C111'))
    .description('values, single or in pairs, that bring the equaliser back to its curve, solved on the stage')
    .addOption(
      new Option('--within <tolerance>', 'dB of the curve, or % of its time constants')
        .argParser(withinOption)
        .default({ db: 0.1 }, '0.1 dB'),
    )
    .addOption(
      new Option('--series <series>', 'of preferred values: default E24 where no drawer is named').choices(trimSeries),
    )
    .option('--drawer <file>', 'a table of stock (CSV) to take parts from')
    .option('--from <frequency>', "of the band: default the deviation limit's", aboveZero('Hz'))
    .option('--to <frequency>', "of the band: default the deviation limit's", aboveZero('Hz'))
    .action((file: string, positions: readonly string[], options: TrimOptions) => {
      end(trim(file, positions, options, desk));
    });

  onFile(program.command('sheet'), 'job file')
    .description('the rework sheet: positions in bench order, marks, voltages to read, what to buy, a box for initials')
    .option('--csv <file>', 'write the positions to this file, too, as a table')
    .option('--purchase <file>', 'write the purchase list to this file, too, as a table')
    .option('--drawer <file>', 'a table of stock (CSV): default the nearest drawer.csv, where there is one')
    .action((file: string, options: SheetOptions) => {
      end(sheet(file, options, desk));
    });

  onStage(program.command('headroom'))
    .description('overload, the part that limits, and distortion over level, 20 Hz to 20 kHz')
    .action((file: string, options: HeadroomOptions) => {
      end(headroom(file, options, desk));
    });

  onStage(program.command('spread'))
    .description('how far healthy boards lie apart within their tolerances, and how many keep the limits')
    .addOption(new Option('--boards <number>', 'boards to draw').default(10_000).argParser(wholeNumber(1, 200_000)))
    .addOption(
      new Option('--seed <number>', 'the same draws again').default(1).argParser(wholeNumber(0, 4_294_967_295)),
    )
    .option('--workers <number>', 'threads; the answer is the same', wholeNumber(1, 64))
    .action((file: string, options: SpreadOptions) => {
      end(spread(file, options, desk));
    });

  withSource(onStage(program.command('influence')))
    .description('which part matters: what one percent more of each moves in curve, gain and bias')
    .option('--at <frequencies>', 'Hz with commas between: 20,1000', frequenciesOption)
    .action((file: string, options: InfluenceOptions) => {
      end(influence(file, options, desk));
    });

  addSignal(program, desk, end);

  addListen(program, desk, end);
  addPops(program, desk, end);
  addProof(program, desk, end);

  program
    .command('new')
    .description('write a commented board and job to fill in; asks for what it needs at a terminal')
    .addArgument(new Argument('[folder]', 'where to write them').default('.'))
    .option('--name <name>', 'of the files, in letters, digits and dashes: default my-unit')
    .option('--model <model>', 'of the unit')
    .option('--serial <number>', 'of the unit')
    .option('--complaint <words>', 'what the owner reports')
    .option('--technician <initials>', 'who does the work')
    .action((folder: string, options: NewOptions) => {
      end(startBench(folder, options, desk));
    });

  program
    .command('explain')
    .description("what a fault's code or a finding's name means")
    .addArgument(new Argument('[code]', 'such as no-dc-path or deviation; all of them where none is named'))
    .action((code: string | undefined) => {
      end(explain(code, desk));
    });

  program
    .command('jobs')
    .description('the jobs of a folder: what is known of each, and its verdict')
    .addArgument(new Argument('[folder]', 'looked through with the folders in it').default('.'))
    .option('--json', 'print one JSON object instead of words')
    .action((folder: string, options: JobsOptions) => {
      end(jobs(folder, options, desk));
    });

  program
    .command('history')
    .description('what pulled parts read in the jobs of a folder: values, ESR, leakage, by age and build')
    .addArgument(new Argument('<what>', 'a designator, a type, a build or a kind: C101, HN-A, tantalum, capacitor'))
    .addArgument(new Argument('[folder]', 'looked through with the folders in it').default('.'))
    .option('--json', 'print one JSON object instead of words')
    .action((what: string, folder: string, options: HistoryOptions) => {
      end(history(what, folder, options, desk));
    });

  program
    .command('open')
    .description('the bench in the browser: jobs and boards of a folder as live sheets, served to this machine alone')
    .addArgument(new Argument('[folder]', 'made with a demo job where there is none').default(usualFolder))
    .addOption(
      new Option('--port <number>', 'to answer on').argParser(wholeNumber(1, 65_535)).default(0, 'any that is free'),
    )
    .option('--no-browser', 'print the address only')
    .action((folder: string, options: OpenOptions) => {
      end(open(folder, options, desk));
    });
  return program;
}

function onFile(command: Command, what: string): Command {
  return command
    .addArgument(new Argument('<file>', what))
    .option('--json', 'print one JSON object instead of words')
    .option('--ambient <temperature>', 'of every part, instead of the 25 °C or what the job says', ambientOption)
    .option(
      '--rail <name=volts>',
      'a rail at other volts than the board says; may be said again for another',
      railOption,
    );
}

function onStage(command: Command): Command {
  return onFile(command, 'board or job file')
    .addOption(stateOption())
    .option('--cartridge <name>', "one of the board's cartridges, with its cable, at the input");
}

function withSource(command: Command): Command {
  return command.addOption(
    new Option('--source <source>', 'at the input: shorted, or a resistance: 1 kΩ')
      .argParser(sourceOption)
      .conflicts('cartridge'),
  );
}

function stateOption(): Option {
  return new Option('--state <state>', 'of a job: default rebuilt').choices(['drawn', 'found', 'rebuilt']);
}
