import type { ChannelHeadroom, HeadroomAnswer, Overload } from '@curvewright/verify';
import { wrap } from './cells.ts';
import { decimals, frequency, none, quantity, signed } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { stagePage, type StagePageOptions } from './stage-page.ts';
import { tableLines, type Column } from './table.ts';

/** Overload of every channel with what limits it, then distortion over level. */
export function headroomPage({ channels }: HeadroomAnswer, options: StagePageOptions): string {
  return stagePage(options, 'headroom, a steady sine into one channel at a time', (page) => [
    ...channels.flatMap((channel) => [
      [
        ...wrap(`${channel.name} channel: input for 1 % distortion or 1 dB of compression`, page.width),
        ...overloadTable(channel, page),
      ],
      [
        ...wrap(`${channel.name} channel: distortion in %, harmonics 2 to 10`, page.width),
        ...distortionTable(channel, page),
      ],
    ]),
    [
      ...wrap('Levels are mV rms at the input; the output is rms.', page.width),
      ...wrap('Computed from the files; nothing was measured.', page.width),
    ],
  ]);
}

function overloadTable({ overload }: ChannelHeadroom, options: PageOptions): readonly string[] {
  const columns: readonly Column[] = [
    { align: 'right' },
    { align: 'point' },
    { align: 'right' },
    { align: 'right' },
    { align: 'left', wraps: true },
  ];
  const heads = ['', 'input, mV', 'dB over 5 mV', 'output', 'limited by'];
  return tableLines(columns, [heads, ...overload.map(overloadRow)], options);
}

function overloadRow(overload: Overload): readonly string[] {
  const { hz, inputMv, above5mvDb, outputV } = overload;
  if (inputMv === null || above5mvDb === null) return [frequency(hz), none, none, none, notFoundText(overload)];
  const output = outputV === null ? none : quantity(outputV, 'V', 2);
  return [frequency(hz), millivolts(inputMv), signed(above5mvDb, 1), output, limitText(overload)];
}

/** None there, or none known: what the stage took and what it was not seen to take are told apart. */
function notFoundText({ triedMv, unresolved }: Overload): string {
  if (!unresolved) return `takes all of ${millivolts(triedMv)} mV, the most tried`;
  if (triedMv === 0) return 'not known: no steady state found at any level';
  return `not known: below it up to ${millivolts(triedMv)} mV, beyond that no steady state found`;
}

/** %; what is printed of a level is no closer. */
const leastDoubt = 0.5;

/** `Q103, 92 % of the distortion`; a share above 100 % is one that other parts partly undo. */
function limitText({ by, limitedBy, share, withinPercent }: Overload): string {
  if (limitedBy === null || share === null || by === null) return none;
  const what = by === 'distortion' ? 'the distortion' : 'the gain lost';
  const close = withinPercent === null || withinPercent < leastDoubt;
  const doubt = close ? '' : `; input known within ${decimals(withinPercent, 0)} %`;
  return `${limitedBy}, ${share >= 0.995 ? 'all' : `${decimals(100 * share, 0)} %`} of ${what}${doubt}`;
}

function distortionTable({ overload, points }: ChannelHeadroom, options: PageOptions): readonly string[] {
  const levels = [...new Set(points.map(({ inputMv }) => inputMv))].toSorted((a, b) => a - b);
  const columns: readonly Column[] = [{ align: 'right' }, ...overload.map((): Column => ({ align: 'point', gap: 3 }))];
  const rows = levels.map((level) => [
    `${millivolts(level)} mV`,
    ...overload.map(({ hz }) => {
      const point = points.find((candidate) => candidate.hz === hz && candidate.inputMv === level);
      return point === undefined ? '' : percent(point.thdPercent);
    }),
  ]);
  return tableLines(columns, [['', ...overload.map(({ hz }) => frequency(hz))], ...rows], options);
}

function millivolts(value: number): string {
  return decimals(value, value < 9.95 ? 1 : 0);
}

/** Below a millionth of the signal nobody can measure it. */
function percent(value: number): string {
  return value < 1e-4 ? '<0.0001' : decimals(value, value < 9.95e-3 ? 4 : value < 0.0995 ? 3 : 2);
}
