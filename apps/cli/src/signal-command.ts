import { Argument, InvalidArgumentError, Option, type Command } from 'commander';
import { signalSteps, type SignalStep } from '@curvewright/capture';
import type { Status } from './answering.ts';
import type { Desk } from './desk.ts';
import { aboveZero, decibelsAboveZero, numberAbove } from './options.ts';
import { signalAdapter, type SignalAdapterOptions } from './verbs/signal-adapter.ts';
import { signal, signalBits, stepsNamed, type SignalOptions } from './verbs/signal.ts';

type End = (status: Status | Promise<Status>) => void;

/** Rates that converters keep. */
const rates: readonly number[] = [44_100, 48_000, 88_200, 96_000, 176_400, 192_000];

/** Resistors that a shop may keep. */
const adapterSeries = ['E12', 'E24', 'E96'];

const shapes = ['flat', 'inverse_riaa'];

/** `signal`, which writes test signals, and under it `signal adapter`. */
export function addSignal(program: Command, desk: Desk, end: End): void {
  // `signal` and `signal adapter` have options of the same names: each takes those that stand behind it.
  program.enablePositionalOptions();
  const verb = program
    .command('signal')
    .enablePositionalOptions()
    .description('test signals as WAV files, loud enough and not too loud for your player, adapter, board and recorder')
    .addArgument(new Argument('[name]', 'of the files, with their folder, without an ending').default('test-signal'))
    .option('--json', 'print one JSON object instead of words')
    .addOption(new Option('--rate <frames>', `a second: ${rates.join(', ')}`).argParser(rateOption).default(48_000))
    .addOption(new Option('--bits <bits>', 'of PCM, or float').choices(signalBits).default('24'))
    .addOption(
      new Option('--steps <steps>', `with commas between, in their order: ${signalSteps.join(', ')}`)
        .argParser(stepsOption)
        .default(['level', 'sweep', 'left', 'right', 'silence'], 'all but tones'),
    )
    .option('--apart', 'a file for each step')
    .addOption(new Option('--shape <shape>', 'default: what the adapter leaves to do').choices(shapes))
    .addOption(new Option('--sweep <time>', 'of each sweep').argParser(timeOption).default(20, '20 s'))
    .addOption(new Option('--silence <time>', 'of the silence').argParser(timeOption).default(10, '10 s'))
    .addOption(new Option('--from <frequency>', 'of the sweeps').argParser(aboveZero('Hz')).default(5, '5 Hz'))
    .option('--to <frequency>', 'of the sweeps: default 40 kHz, or 0.45 of the rate', aboveZero('Hz'))
    .addOption(
      new Option('--input <volts>', 'wanted at the phono input at 1 kHz, rms')
        .argParser(aboveZero('V'))
        .default(5e-3, '5 mV'),
    )
    .option('--player <volts>', 'of the player at full scale, rms: default 1 V', aboveZero('V'))
    .option('--generator <impedance>', 'of the player: default 100 Ω', aboveZero('Ω'))
    .addOption(
      new Option('--adapter <file>', 'the board file of your adapter').conflicts(['ratio', 'adapterIn', 'adapterOut']),
    )
    .option('--ratio <times>', 'that the adapter divides, nothing behind it: default 10', numberAbove(1))
    .option('--adapter-in <impedance>', 'into the adapter: default 4.7 kΩ', aboveZero('Ω'))
    .option('--adapter-out <impedance>', 'out of the adapter: default 430 Ω', aboveZero('Ω'))
    .option('--load <impedance>', 'of the phono input: default 47 kΩ', aboveZero('Ω'))
    .addOption(
      new Option('--board <file>', 'board or job file on the bench: its gain and overload are computed').conflicts([
        'gain',
        'overload',
      ]),
    )
    .option('--gain <level>', 'of the board at 1 kHz: default 40 dB', decibelsAboveZero)
    .option('--overload <volts>', 'at the phono input that overload the board at 1 kHz: default 50 mV', aboveZero('V'))
    .option('--recorder <volts>', 'that are full scale to the recorder, rms: default 1 V', aboveZero('V'))
    .action((name: string, options: SignalOptions) => {
      end(signal(name, options, desk));
    });

  verb
    .command('adapter')
    .description('a passive line-to-phono adapter from preferred values, and its own board file')
    .addArgument(new Argument('[file]', 'the board file to write').default('adapter.board.yaml'))
    .option('--json', 'print one JSON object instead of words')
    .addOption(
      new Option('--shape <shape>', 'inverse_riaa for flat signals, flat for shaped ones')
        .choices(shapes)
        .default('inverse_riaa'),
    )
    .addOption(new Option('--generator <impedance>', 'of the player').argParser(aboveZero('Ω')).default(100, '100 Ω'))
    .addOption(
      new Option('--load <impedance>', 'of the phono input').argParser(aboveZero('Ω')).default(47_000, '47 kΩ'),
    )
    .option('--attenuation <level>', 'at 1 kHz: default 42 dB, flat 20 dB', decibelsAboveZero)
    .addOption(new Option('--series <series>', 'of its resistors').choices(adapterSeries).default('E24'))
    .action((file: string, options: SignalAdapterOptions) => {
      end(signalAdapter(file, options, desk));
    });
}

function stepsOption(text: string): readonly SignalStep[] {
  const steps = stepsNamed(text);
  if (steps === null) throw new InvalidArgumentError(`write each once, of ${signalSteps.join(', ')}`);
  return steps;
}

function rateOption(text: string): number {
  const rate = Number(text);
  if (!rates.includes(rate)) throw new InvalidArgumentError(`write one of ${rates.join(', ')}`);
  return rate;
}

/** Less than a second shows nothing, more than ten minutes fills the memory. */
function timeOption(text: string): number {
  const seconds = aboveZero('s')(text);
  if (!(seconds >= 1 && seconds <= 600)) throw new InvalidArgumentError('write a time from 1 s to 600 s');
  return seconds;
}
