import { printQuantity } from '@curvewright/quantity';
import type { TrimAnswer, TrimChannel, TrimOption, TrimWithin } from '@curvewright/verify';
import { wrap } from './cells.ts';
import { db, decimals, frequency, none } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { stagePage, type StagePageOptions } from './stage-page.ts';
import { tableLines, type Column } from './table.ts';

/** Options that are listed of a channel; all stand in the JSON object. */
const listed = 8;

/** What stands in the places now, and the parts that bring the curve back, channel by channel; channels that answer alike once. */
export function trimPage({ channels, within }: TrimAnswer, options: StagePageOptions): string {
  return stagePage(options, `trimmed within ${withinWords(within)}`, (page) => {
    const alike = channels.length > 1 && new Set(channels.map(contentOf)).size === 1;
    const shown = alike ? channels.slice(0, 1) : channels;
    return [
      ...shown.flatMap((channel) => [
        places(channel, alike ? channels : [channel], within, page),
        optionLines(channel, page),
      ]),
      notes(channels, within, page),
    ];
  });
}

function contentOf({ name: _, places: wanted, options }: TrimChannel): string {
  return JSON.stringify([wanted, options], (key, value: unknown) => (key === 'ref' ? undefined : value));
}

function withinWords(within: TrimWithin): string {
  return 'db' in within
    ? `${printQuantity(within.db, 'dB')} of the curve`
    : `${printQuantity(within.fraction, '%')} of its time constants`;
}

function places(
  channel: TrimChannel,
  same: readonly TrimChannel[],
  within: TrimWithin,
  page: PageOptions,
): readonly string[] {
  const columns: readonly Column[] = [{ align: 'left' }, ...[1, 2, 3].map((): Column => ({ align: 'right' }))];
  const moves = (perPercent: number): string =>
    'db' in within ? `${decimals(perPercent, 3)} dB` : `${decimals(100 * perPercent, 2)} %`;
  return [
    ...wrap(same.map(({ name }) => name).join(' and '), page.width),
    ...tableLines(
      columns,
      [
        ['', 'now', 'wanted', '1 % moves'],
        ...channel.places.map(({ kind, was, best, perPercent }, k) => [
          same.map(({ places: theirs }) => theirs[k]?.ref ?? '').join(' '),
          valueOf(kind, was),
          valueOf(kind, best),
          moves(perPercent),
        ]),
      ],
      page,
    ),
  ];
}

function valueOf(kind: 'resistor' | 'capacitor', value: number): string {
  return printQuantity(value, kind === 'resistor' ? 'Ω' : 'F', 4);
}

function optionLines({ before, options, places: wanted }: TrimChannel, page: PageOptions): readonly string[] {
  const columns: readonly Column[] = [
    { align: 'left' },
    { align: 'left', gap: 1, wraps: true },
    ...Array.from({ length: 7 }, (): Column => ({ align: 'right' })),
  ];
  const figures = ({
    worstDb,
    worstHz,
    gainDb,
    timesUs: { T1, T2, T3, T4 },
  }: TrimChannel['before']): readonly string[] => [
    db(worstDb),
    frequency(worstHz),
    decimals(gainDb, 2),
    ...[T1, T2, T3, T4].map(times),
  ];
  return tableLines(
    columns,
    [
      ['', 'parts', 'worst dB', 'at', 'gain', 'T1 µs', 'T2', 'T3', 'T4'],
      ['', 'as it stands', ...figures(before)],
      ...options
        .slice(0, listed)
        .map((option) => [
          option.holds ? '✓' : '',
          option.choices.map((choice, k) => partWords(choice, wanted[k]?.kind ?? 'resistor')).join('; '),
          ...figures(option),
        ]),
    ],
    page,
  );
}

function times(us: number | null): string {
  if (us === null) return none;
  return us >= 100 ? decimals(us, 0) : decimals(us, us >= 10 ? 1 : 3);
}

function partWords({ ref, how, parts }: TrimOption['choices'][number], kind: 'resistor' | 'capacitor'): string {
  const names = parts.map(({ value, stock }) => `${valueOf(kind, value)}${stock === null ? '' : ` (${stock})`}`);
  return `${ref} ${names.join(how === 'parallel' ? ' ∥ ' : ' + ')}`;
}

function notes(channels: readonly TrimChannel[], within: TrimWithin, { width }: PageOptions): readonly string[] {
  const holding = channels.every(({ options }) => options.some(({ holds }) => holds));
  const miss = Math.max(...channels.map((channel) => channel.miss));
  return [
    ...(holding ? [] : wrap('Nothing holds with these parts alone; what comes nearest is listed.', width)),
    ...wrap('∥ side by side, + in series; every line solved on the stage, with parts exactly as marked.', width),
    ...wrap(
      `T1 to T3: poles near 3180 and 75 µs, zero near 318 µs; T4: the lowest zero above 20 kHz. Chosen by a model that missed what was solved by up to ${'db' in within ? `${decimals(miss, 3)} dB` : `${decimals(100 * miss, 2)} %`}.`,
      width,
    ),
    ...('db' in within
      ? wrap(
          'Within dB the network also makes up for coupling capacitors at the ends of the band; --within in % looks at the time constants alone.',
          width,
        )
      : []),
  ];
}
