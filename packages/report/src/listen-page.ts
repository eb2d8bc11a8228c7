import type { ListenAnswer, ListenChannel, Problem } from '@curvewright/capture';
import { hanging, oneLine, wrap } from './cells.ts';
import { paint } from './ink.ts';
import { db, decimals, frequency, isMain, none, quantity, signed } from './numbers.ts';
import { pageWidth, type PageOptions } from './page-options.ts';
import { channelLetter } from './states-shown.ts';
import { tableLines, type Column } from './table.ts';

/** A recording that was listened to. */
export interface ListenedRecording extends ListenAnswer {
  /** The recording's file. */
  readonly recording: string;
  /** Where the plug was: `board`, or another place in words. */
  readonly at: string;
  /** The files by which the way to and from the board was taken off; null where none was named. */
  readonly corrected: {
    readonly loopback: string | null;
    readonly adapter: string | null;
    readonly chain: string | null;
  };
}

/** Problems first, then figures and points of both channels, hum, and what the figures are of. */
export function listenPage(answer: ListenedRecording, options: PageOptions): string {
  const page = { ...options, width: pageWidth(options) };
  const sections = [
    heading(answer, page),
    problemLines(answer, page),
    ...(answer.channels.length === 0
      ? []
      : [figureLines(answer, page), pointLines(answer, page), humLines(answer, page), noteLines(answer, page)]),
  ];
  return sections
    .filter(({ length }) => length > 0)
    .map((lines) => lines.join('\n'))
    .join(`\n${'─'.repeat(page.width)}\n`);
}

function heading({ recording, at, clock }: ListenedRecording, { width }: PageOptions): readonly string[] {
  const title = wrap(`${oneLine(recording)}: measured at ${at === 'board' ? 'the board' : oneLine(at)}`, width);
  if (clock === null) return title;
  const { ppm, offsetS } = clock;
  const clocks =
    ppm === null
      ? 'the clocks were not compared'
      : `the recorder's clock runs ${signed(ppm, 1)} ppm against the player's, and that is taken off`;
  return [...title, ...wrap(`The signal starts at ${decimals(offsetS, 3)} s; ${clocks}.`, width)];
}

function problemLines({ problems }: ListenAnswer, { width, colour }: PageOptions): readonly string[] {
  return problems.flatMap((problem) => {
    const [first = '', ...others] = hanging('▲ ', `${placeOf(problem)}${problem.message}`, width);
    return [first.replace('▲', paint('▲', 'found', colour)), ...others];
  });
}

function placeOf({ recording, channel, fromS, toS }: Problem): string {
  const which = [...(recording === 'board' ? [] : [recording]), ...(channel === null ? [] : [channel])].join(', ');
  const from = fromS === null ? '' : decimals(fromS, 2);
  const when = fromS === null ? '' : toS === null || toS === fromS ? `${from} s` : `${from} to ${decimals(toS, 2)} s`;
  const place = [which, when].filter((words) => words !== '').join(', ');
  return place === '' ? '' : `${place}: `;
}

function figureLines({ channels, balanceDb }: ListenAnswer, options: PageOptions): readonly string[] {
  const number = (value: number | null | undefined, count: number): string => decimals(value ?? NaN, count);
  const row = (label: string, read: (channel: ListenChannel) => string): readonly string[] => [
    label,
    ...channels.map(read),
  ];
  return tableLines(
    [{ align: 'left' }, ...channels.map((): Column => ({ align: 'point', gap: 4 }))],
    [
      row('', ({ name }) => name),
      row('gain at 1 kHz, dB', ({ gainDb }) => number(gainDb, 2)),
      row('worst deviation, dB', ({ worstDeviationDb }) => db(worstDeviationDb ?? NaN)),
      row('  at', ({ worstHz }) => (worstHz === null ? none : frequency(worstHz))),
      ...(channels.length < 2 ? [] : [['balance, dB', ...channels.slice(1).map(() => ''), number(balanceDb, 2)]]),
      row('hiss at the input, µV', ({ noise }) => number(noise?.band?.inputUv, 3)),
      row('  A-weighted', ({ noise }) => number(noise?.aWeighted?.inputUv, 3)),
      row('signal to noise, dB', ({ noise }) => number(noise?.band?.snrDb, 1)),
      row('  A-weighted', ({ noise }) => number(noise?.aWeighted?.snrDb, 1)),
      row("  measuring set's share, dB", ({ noise }) => number(noise?.interfaceDb, 1)),
    ],
    options,
  );
}

function pointLines({ channels, crosstalk }: ListenAnswer, options: PageOptions): readonly string[] {
  const listed = (channels[0]?.points ?? [])
    .map(({ hz }) => hz)
    .filter((hz) => isMain(hz) || hz === 30 || hz === 15_000);
  const directions = [...new Set(crosstalk.map(acrossWords))];
  const ofEach = (label: string): readonly string[] =>
    channels.map(({ name }) => (channels.length > 1 ? `${label} ${channelLetter(name)}` : label));
  const rows = listed.map((hz) => {
    const points = channels.map((channel) => channel.points.find((point) => point.hz === hz));
    return [
      quantity(hz, 'Hz', 3),
      ...points.map((point) => db(point?.deviationDb ?? NaN)),
      ...points.map((point) => decimals(point?.phaseDeg ?? NaN, 1)),
      ...points.map((point) => distortionWords(point?.distortion ?? null)),
      ...points.map((point) => decimals(point?.snrDb ?? NaN, 0)),
      ...directions.map((direction) => {
        const point = crosstalk.find((each) => each.hz === hz && acrossWords(each) === direction);
        return point === undefined ? none : `${point.db === null ? '> ' : ''}${decimals(point.atLeastDb, 0)}`;
      }),
    ];
  });
  const head = ['', ...ofEach('dB'), ...ofEach('°'), ...ofEach('THD %'), ...ofEach('S/N'), ...directions];
  return tableLines(
    [{ align: 'right' }, ...head.slice(1).map((): Column => ({ align: 'point' }))],
    [head, ...rows],
    options,
  );
}

function acrossWords({ from, to }: ListenAnswer['crosstalk'][number]): string {
  return `${channelLetter(from)} in ${channelLetter(to)}`;
}

/** Below what the noise hides where nothing stands out of it. */
function distortionWords(distortion: ListenChannel['points'][number]['distortion']): string {
  if (distortion === null) return none;
  const { percent, floorPercent } = distortion;
  return percent === null ? `< ${decimals(2 * floorPercent, 3)}` : decimals(percent, 3);
}

function humLines({ channels }: ListenAnswer, { width }: PageOptions): readonly string[] {
  return channels.flatMap(({ name, noise }) => {
    if (noise === null) return [];
    if (noise.hum.length === 0) return wrap(`Hum, ${name}: none stands out of the noise.`, width);
    const lines = noise.hum.map(({ hz, db: level, inputUv }) => {
      const volts = inputUv === null ? '' : ` (${decimals(inputUv, 3)} µV)`;
      return `${decimals(hz, 1)} Hz ${decimals(level ?? NaN, 1)} dB${volts}`;
    });
    return hanging(`Hum, ${name}: `, lines.join(', '), width);
  });
}

function noteLines({ at, corrected, channels }: ListenedRecording, { width }: PageOptions): readonly string[] {
  const { loopback, adapter, chain } = corrected;
  const taken = [
    ...(loopback === null ? [] : [`the measuring set by ${oneLine(loopback)}`]),
    ...(adapter === null ? [] : [`the adapter by ${oneLine(adapter)}`]),
    ...(chain === null ? [] : [`what follows the board by ${oneLine(chain)}`]),
  ];
  const whole = at !== 'board' && chain === null && loopback === null;
  const levelled = channels.some(({ noise }) => typeof noise?.band?.inputUv === 'number');
  const from = channels.find(({ noise }) => noise !== null)?.noise?.from;
  return [
    `Deviation from the RIAA curve re 1 kHz; ${none}: not measured, below 30 dB signal to noise.`,
    taken.length > 0
      ? `Taken off: ${taken.join(', ')}.`
      : 'Nothing is taken off: player, adapter and recorder are in the figures; a loop-back recording or the adapter’s board file takes them off.',
    ...(whole ? [`The deviation is that of the whole chain up to ${oneLine(at)}, not of the board alone.`] : []),
    ...(channels.every(({ gainDb }) => gainDb === null)
      ? ['No gain: name a loop-back recording, or the level at the input and what is full scale to the recorder.']
      : []),
    ...(from === undefined
      ? []
      : [
          `Noise from 20 Hz to 20 kHz, ${from === 'shorted' ? 'input shorted' : 'player connected and silent, its own noise included'}; ` +
            `signal to noise re ${levelled ? '5 mV at 1 kHz' : 'the 1 kHz level of the signal'}.`,
        ]),
    'Distortion holds that of player and recorder.',
  ].flatMap((line) => wrap(line, width));
}
