import type { AdapterAnswer } from '@curvewright/capture';
import { wrap } from './cells.ts';
import { db, decimals, quantity } from './numbers.ts';
import { pageWidth, type PageOptions } from './page-options.ts';
import { tableLines, type Column } from './table.ts';

/** A designed adapter: its parts, its error, what moves it, and how to check it. `file` is the board file it was written to. */
export function adapterPage(answer: AdapterAnswer & { readonly file: string }, options: PageOptions): string {
  const page = { ...options, width: pageWidth(options) };
  const { adapter, generator, load, file } = answer;
  const flat = adapter.shaping === 'flat';
  const heading =
    `Line-to-phono adapter, ${flat ? 'flat divider' : 'inverse RIAA'}, ` +
    `between a generator of ${quantity(generator, 'Ω')} and a phono input of ${quantity(load, 'Ω')}`;
  const sections = [
    wrap(heading, page.width),
    partLines(answer, page),
    figureLines(answer, page),
    generatorTable(answer, page),
    movedTable(answer, page),
    [`wrote ${file}`, ...wrap(checkWords(file, flat), page.width)],
  ];
  return sections.map((lines) => lines.join('\n')).join(`\n${'─'.repeat(page.width)}\n`);
}

function partLines({ adapter }: AdapterAnswer, options: PageOptions): readonly string[] {
  const joined = (values: readonly number[], unit: 'Ω' | 'F', by: string): string =>
    values.map((value) => quantity(value, unit)).join(by);
  const rows =
    adapter.shaping === 'flat'
      ? [['in series', quantity(adapter.series, 'Ω')]]
      : (['bass', 'treble'] as const).map((name) => {
          const { resistors, capacitors } = adapter[name];
          return [
            `in series, ${name}`,
            `${joined(resistors, 'Ω', ' + ')}, across it ${joined(capacitors, 'F', ' ∥ ')}`,
          ];
        });
  return tableLines(
    [{ align: 'left' }, { align: 'left' }],
    [...rows, ['across the phono input', quantity(adapter.across, 'Ω')]],
    options,
  );
}

function figureLines(answer: AdapterAnswer, options: PageOptions): readonly string[] {
  const { gainDb, worst, points, leastInputOhms, outputOhms } = answer;
  const columns: readonly Column[] = [{ align: 'right' }, { align: 'point', gap: 4 }, { align: 'point', gap: 4 }];
  return [
    ...wrap(
      `${decimals(gainDb, 2)} dB at 1 kHz from the generator's open voltage. Error of the curve from 20 Hz to 20 kHz: at most ` +
        `${db(worst.db)} dB, at ${quantity(worst.hz, 'Hz', 2)}. The generator sees ${quantity(leastInputOhms, 'Ω', 2)} or more up to 20 kHz, ` +
        `the phono input at most ${quantity(outputOhms, 'Ω')} in place of a cartridge.`,
      options.width,
    ),
    ...tableLines(
      columns,
      [
        ['', 'gain, dB', 'error, dB'],
        ...points.map((point) => [quantity(point.hz, 'Hz', 2), decimals(point.gainDb, 2), db(point.errorDb)]),
      ],
      options,
    ),
  ];
}

function generatorTable({ generators }: AdapterAnswer, options: PageOptions): readonly string[] {
  return [
    'Behind another generator',
    ...tableLines(
      [{ align: 'right' }, { align: 'point', gap: 4 }, { align: 'point', gap: 4 }],
      [
        ['impedance', 'at 1 kHz, dB', 'worst error, dB'],
        ...generators.map(({ ohms, levelDb, worstDb }) => [quantity(ohms, 'Ω'), decimals(levelDb, 2), db(worstDb)]),
      ],
      options,
    ),
  ];
}

function movedTable({ parts }: AdapterAnswer, options: PageOptions): readonly string[] {
  return [
    'What one percent more moves',
    ...tableLines(
      [{ align: 'left' }, { align: 'point', gap: 4 }, { align: 'point', gap: 4 }],
      [
        ['', 'at 1 kHz, dB', 'curve at its worst, dB'],
        ...parts.map(({ what, levelDb, curveDb }) => [what, db(levelDb), db(curveDb)]),
      ],
      options,
    ),
  ];
}

function checkWords(file: string, flat: boolean): string {
  return (
    `Check it: curvewright curve ${file}. Its gain is the adapter's; its deviation is against the playback curve, so add that curve ` +
    `${flat ? 'once: what is left is the error of the divider' : 'twice: what is left is the error of the adapter'}. ` +
    'Shield it, and keep its output lead short. Computed; nothing was measured.'
  );
}
