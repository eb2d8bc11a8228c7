import type { LevelPlan, Segment, Shaping, SignalPlan } from '@curvewright/capture';
import { hanging, wrap } from './cells.ts';
import { decimals, quantity } from './numbers.ts';
import { pageWidth, type PageOptions } from './page-options.ts';
import { tableLines, type Column } from './table.ts';

/** Test signals that were written, and the way from player to recorder that their level was planned for. */
export interface SignalAnswer {
  readonly files: readonly { readonly wav: string; readonly plan: string; readonly signal: SignalPlan }[];
  readonly hookup: SignalHookup;
  readonly level: LevelPlan;
  /** mV rms wanted at the phono input at 1 kHz. */
  readonly inputMv: number;
  /** `16`, `24`, `32` or `float`. */
  readonly bits: string;
}

/** What the levels rest on, in V rms, Ω and dB. */
interface SignalHookup {
  readonly playerVolts: number;
  readonly generatorOhms: number;
  readonly loadOhms: number;
  readonly recorderVolts: number;
  readonly adapter:
    { readonly file: string } | { readonly ratio: number; readonly inputOhms: number; readonly outputOhms: number };
  readonly adapterGainDb: number;
  readonly boardFile: string | null;
  readonly boardGainDb: number;
  readonly overloadVolts: number;
}

/** The files and what is in them, the way they were planned for, the levels along it, and what to mind when connecting. */
export function signalPage(answer: SignalAnswer, options: PageOptions): string {
  const page = { ...options, width: pageWidth(options) };
  const sections = [
    fileLines(answer, page),
    hookupLines(answer, page),
    levelLines(answer, page),
    cautions.flatMap((caution) => hanging('▲ ', caution, page.width)),
  ];
  return sections.map((lines) => lines.join('\n')).join(`\n${'─'.repeat(page.width)}\n`);
}

/** Facts of the trade (common practice, no source). */
const cautions: readonly string[] = [
  'Turn the volume down and the player to its lowest before plugging anything in or out; bring both up slowly.',
  'Block direct voltage: a capacitor in series where the output of the board, or of the player, may carry any.',
  "A computer's supply is earthed. Never join it to a set with a two-pin plug or a live chassis: run the computer from its battery with nothing else " +
    'plugged in, or use an isolating transformer at the set, or a battery recorder.',
  'A microphone input puts its own supply on the lead (plug-in power): use a line input, or a capacitor in series.',
  'Switch off what changes levels by itself: automatic gain, noise gate, equaliser, spatial sound; of player and recorder.',
];

const shapeWords: Readonly<Record<Shaping, string>> = {
  flat: 'flat',
  inverse_riaa: 'rising as a record is cut (inverse RIAA)',
};

function fileLines({ files, bits }: SignalAnswer, options: PageOptions): readonly string[] {
  return files.flatMap(({ wav, plan, signal }) => {
    const { rate, seconds, shaping, levelDbfs, peakDbfs, segments } = signal;
    return [
      `wrote ${wav}`,
      `wrote ${plan}`,
      ...wrap(
        `${decimals(seconds, 1)} s, ${rate} frames a second, ${bits === 'float' ? 'floating point' : `${bits} bits`}, ${shapeWords[shaping]}; ` +
          `${decimals(levelDbfs, 1)} dB re full scale at 1 kHz, at most ${decimals(peakDbfs, 1)} dB`,
        options.width,
      ),
      ...tableLines(
        [{ align: 'point' }, { align: 'point' }, { align: 'left' }, { align: 'left', wraps: true }],
        [
          ['at, s', 'for, s', 'on', 'what'],
          ...segments.map((each) => [decimals(each.at, 2), decimals(each.seconds, 2), each.feeds, segmentWords(each)]),
        ],
        options,
      ),
    ];
  });
}

function segmentWords(segment: Segment): string {
  switch (segment.kind) {
    case 'marker':
      return `${segment.role} marker`;
    case 'level':
      return `steady ${quantity(segment.hz, 'Hz')}`;
    case 'sweep':
      return `sweep, ${quantity(segment.fromHz, 'Hz')} to ${quantity(segment.toHz, 'Hz')}`;
    case 'tones':
      return `${segment.tones.length} steady tones, one after the other`;
    case 'silence':
      return 'silence, for hiss, hum and pops';
  }
}

function hookupLines({ hookup, inputMv }: SignalAnswer, options: PageOptions): readonly string[] {
  const { adapter, boardFile } = hookup;
  const rows: readonly (readonly [string, string, string])[] = [
    ['player at full scale', `${quantity(hookup.playerVolts, 'V')} rms`, '--player'],
    ['its output impedance', quantity(hookup.generatorOhms, 'Ω'), '--generator'],
    ...('file' in adapter
      ? [['adapter', adapter.file, '--adapter'] as const]
      : [
          ['adapter divides by', decimals(adapter.ratio, 1), '--ratio, or --adapter with its board file'] as const,
          ['impedance into it', quantity(adapter.inputOhms, 'Ω'), '--adapter-in'] as const,
          ['impedance out of it', quantity(adapter.outputOhms, 'Ω'), '--adapter-out'] as const,
          ['phono input', quantity(hookup.loadOhms, 'Ω'), '--load'] as const,
        ]),
    ['wanted at the phono input', `${decimals(inputMv, 2)} mV`, '--input'],
    ['board', boardFile ?? 'not named', '--board'],
    ['  its gain at 1 kHz', `${decimals(hookup.boardGainDb, 1)} dB`, boardFile === null ? '--gain' : 'computed'],
    [
      '  it overloads at',
      `${decimals(1000 * hookup.overloadVolts, 0)} mV`,
      boardFile === null ? '--overload' : 'computed',
    ],
    ['recorder at full scale', `${quantity(hookup.recorderVolts, 'V')} rms`, '--recorder'],
  ];
  return [
    ...wrap('What it was planned for; say by the option what is different with you', options.width),
    ...tableLines([{ align: 'left' }, { align: 'left' }, { align: 'left', gap: 3 }], rows, options),
    ...wrap(
      `From the player's open output to the phono input at 1 kHz: ${decimals(hookup.adapterGainDb, 2)} dB.`,
      options.width,
    ),
  ];
}

const limitWords: Readonly<Record<LevelPlan['limitedBy'], string>> = {
  wanted: 'The level is what was wanted; nothing on the way overloads.',
  player: 'The player allows no more: 3 dB are kept below its full scale.',
  board: 'The board allows no more: 6 dB are kept below its overload.',
  recorder:
    'The recorder allows no more: 3 dB are kept below its full scale. Turn its input down and say so, to play louder.',
};

function levelLines({ level }: SignalAnswer, options: PageOptions): readonly string[] {
  const point: Column = { align: 'point', gap: 4 };
  return [
    ...tableLines(
      [{ align: 'right' }, point, point, point, point],
      [
        ['', 'played, dBFS', 'at the input, mV', 'at the output, mV', 'back, dBFS'],
        ...level.points.map(({ hz, playedDbfs, inputMv, outputMv, backDbfs }) => [
          quantity(hz, 'Hz'),
          decimals(playedDbfs, 1),
          decimals(inputMv, 2),
          decimals(outputMv, 0),
          decimals(backDbfs, 1),
        ]),
      ],
      options,
    ),
    ...wrap(
      `${limitWords[level.limitedBy]} Levels are rms of a sine in mV, peaks in dBFS; on the board's ideal curve.`,
      options.width,
    ),
  ];
}
