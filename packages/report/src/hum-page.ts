import type { HumAnswer, RailHum } from '@curvewright/verify';
import { wrap } from './cells.ts';
import { db, decimals, frequency, isMain, none, quantity } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { stagePage, type StagePageOptions } from './stage-page.ts';
import { tableLines, type Column } from './table.ts';

/** Hum at the outputs; then rail by rail what comes through, and what the shared capacitors hold back. */
export function humPage(answer: HumAnswer, options: StagePageOptions): string {
  return stagePage(options, 'hum through the rails', (page) => [
    totals(answer, page),
    ...answer.rails.map((rail) => railTable(rail, page)),
    notes(answer, page),
  ]);
}

function totals({ channels }: HumAnswer, options: PageOptions): readonly string[] {
  return tableLines(
    columnsFor(channels.length),
    [
      ['', ...channels.map(({ name }) => name)],
      ['hum re programme, dB', ...channels.map(({ humDb }) => level(humDb))],
      ['hum at the output', ...channels.map(({ outputMv }) => millivolts(outputMv))],
    ],
    options,
  );
}

function railTable(
  { rail, rippleV, rippleHz, channels, decouplers }: RailHum,
  options: PageOptions,
): readonly string[] {
  const ripple =
    rippleV === null || rippleHz === null
      ? 'the board states no ripple'
      : `ripple ${quantity(rippleV, 'V')} at ${frequency(rippleHz)} and its harmonics`;
  const points = channels[0]?.points ?? [];
  return [
    ...wrap(`Rail ${rail}: ${ripple}`, options.width),
    ...tableLines(
      columnsFor(channels.length),
      [
        ['', ...channels.map(({ name }) => name)],
        ['hum at the output', ...channels.map(({ outputMv }) => millivolts(outputMv))],
        ['output over supply, dB'],
        ...points.flatMap(({ hz }, n) =>
          isMain(hz) || hz === rippleHz
            ? [[`  ${quantity(hz, 'Hz', 4)}`, ...channels.map((channel) => level(channel.points[n]?.db ?? null))]]
            : [],
        ),
        ...(decouplers.length === 0 ? [] : [['louder without, dB']]),
        ...decouplers.map(({ ref, hz, channels: each }) => [
          `  ${ref}, at ${frequency(hz)}`,
          ...each.map((entry) => (entry.db === null ? none : db(entry.db))),
        ]),
      ],
      options,
    ),
  ];
}

function columnsFor(channels: number): readonly Column[] {
  return [{ align: 'left' }, ...Array.from({ length: channels }, (): Column => ({ align: 'point', gap: 4 }))];
}

function level(value: number | null): string {
  return value === null ? none : decimals(value, 1);
}

function millivolts(value: number | null): string {
  return value === null ? none : quantity(value / 1e3, 'V');
}

function notes({ source, reference, leftOut, rails }: HumAnswer, { width }: PageOptions): readonly string[] {
  const together = rails.length > 1 ? ' Rails add as if they were not in step.' : '';
  return [
    ...wrap(`Programme: ${reference}. Ripple: rms, harmonics included.${together} Source: ${source}.`, width),
    ...wrap(leftOut, width),
    ...wrap('Computed from the files; nothing was measured.', width),
  ];
}
