import type { ChannelLoading, LoadingAnswer } from '@curvewright/verify';
import { wrap } from './cells.ts';
import { db, decimals, isMain, none, quantity } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { stagePage, type StagePageOptions } from './stage-page.ts';
import { tableLines, type Column } from './table.ts';

/** The input as the cartridge sees it, and the cartridge's response into it, channels side by side. */
export function loadingPage(answer: LoadingAnswer, options: StagePageOptions): string {
  return stagePage(options, 'what the cartridge sees', (page) => [
    figures(answer, page),
    impedanceTable(answer, page),
    notes(answer, page),
  ]);
}

function figures({ channels, capacitanceHz, cartridge }: LoadingAnswer, options: PageOptions): readonly string[] {
  const columns: readonly Column[] = [{ align: 'left' }, ...channels.map((): Column => ({ align: 'point', gap: 4 }))];
  const row = (label: string, read: (channel: ChannelLoading) => string): readonly string[] => [
    label,
    ...channels.map(read),
  ];
  const resonance: readonly (readonly string[])[] =
    cartridge === null
      ? []
      : [
          row(`${cartridge.name} resonates at`, ({ resonance: found }) => quantity(found?.hz ?? NaN, 'Hz')),
          row('highest above 1 kHz, dB', ({ resonance: found }) => db(found?.peakDb ?? NaN)),
          row('  at', ({ resonance: found }) => quantity(found?.peakHz ?? NaN, 'Hz')),
        ];
  return tableLines(
    columns,
    [
      row('', ({ name }) => name),
      row('resistance at 1 kHz', ({ inputOhms }) => quantity(inputOhms, 'Ω')),
      row(`capacitance at ${quantity(capacitanceHz, 'Hz')}`, ({ capacitanceF }) => quantity(capacitanceF, 'F')),
      ...resonance,
    ],
    options,
  );
}

function impedanceTable({ channels }: LoadingAnswer, options: PageOptions): readonly string[] {
  const columns: readonly Column[] = [
    { align: 'right' },
    ...channels.flatMap((): Column[] => [{ align: 'point', gap: 4 }, { align: 'point' }]),
  ];
  const names = ['', ...channels.flatMap(({ name }) => [name, ''])];
  const heads = ['', ...channels.flatMap(() => ['impedance', 'response, dB'])];
  const rows = (channels[0]?.points ?? []).flatMap(({ hz }, n) =>
    !isMain(hz)
      ? []
      : [
          [
            quantity(hz, 'Hz', 3),
            ...channels.flatMap(({ points, response }) => {
              const [point, level] = [points[n], response[n]];
              return [quantity(point?.ohms ?? NaN, 'Ω'), level === undefined ? none : decimals(level.relativeDb, 2)];
            }),
          ],
        ],
  );
  return tableLines(columns, [names, heads, ...rows], options);
}

function notes({ cartridge }: LoadingAnswer, { width }: PageOptions): readonly string[] {
  const response =
    cartridge === null
      ? 'The board names no cartridge, so there is no response; write one under cartridges:.'
      : `Response: ${cartridge.name} (${quantity(cartridge.resistance, 'Ω')}, ${quantity(cartridge.inductance, 'H')}, ` +
        `cable ${quantity(cartridge.capacitance, 'F')}) from its EMF to the input node, re 1 kHz.`;
  return [
    ...wrap(response, width),
    ...wrap('The capacitance is the board alone, Miller effect included; the cable adds to it.', width),
    ...wrap('Computed from the files; nothing was measured.', width),
  ];
}
