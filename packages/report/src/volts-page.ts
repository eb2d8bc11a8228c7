import type { State } from '@curvewright/board';
import type { ComparedRound, PartBias, VoltageChart, WarmUp } from '@curvewright/verify';
import { oneLine, wrap } from './cells.ts';
import { none, quantity, volts } from './numbers.ts';
import { pageWidth, type PageOptions } from './page-options.ts';
import { readingsLines } from './readings-lines.ts';
import { tableLines, type Column } from './table.ts';

export interface VoltsPageOptions extends PageOptions {
  readonly title: string;
  readonly state: State;
  /** Of this state. */
  readonly rounds: readonly ComparedRound[];
  readonly warm: readonly WarmUp[];
}

/** The voltage chart: nodes as computed and as the meter shows them, channels side by side; parts; rails. */
export function voltsPage(chart: VoltageChart, { title, state, rounds, warm, ...options }: VoltsPageOptions): string {
  const page = { ...options, width: pageWidth(options) };
  const rule = '─'.repeat(page.width);
  return [
    ...wrap(`${oneLine(title)}, as ${state}`, page.width),
    rule,
    ...nodeTable(chart, page),
    ...partTables(chart, page).flatMap((lines) => [rule, ...lines]),
    rule,
    ...railTable(chart, page),
    rule,
    ...readingsLines(rounds, warm, page).flatMap((lines) => [...lines, rule]),
    ...wrap(`The meter puts ${quantity(chart.meterOhms, 'Ω')} from the node to gnd.`, page.width),
    ...wrap(
      rounds.length === 0
        ? 'Computed from the files; nothing was measured.'
        : 'Computed from the files but for what the job says was read.',
      page.width,
    ),
  ].join('\n');
}

function nodeTable({ channels }: VoltageChart, options: PageOptions): readonly string[] {
  const nodes = [...new Set(channels.flatMap((channel) => channel.nodes.map(({ node }) => node)))];
  const columns: readonly Column[] = [
    { align: 'left' },
    ...channels.flatMap((): Column[] => [{ align: 'point', gap: 4 }, { align: 'point' }]),
  ];
  const heads = ['node, V', ...channels.flatMap(({ name }) => [name, 'meter'])];
  const rows = nodes.map((node) => [
    node,
    ...channels.flatMap((channel) => {
      const entry = channel.nodes.find((candidate) => candidate.node === node);
      if (entry === undefined) return [none, none];
      return [volts(entry.volts), entry.meterVolts === null ? none : volts(entry.meterVolts)];
    }),
  ]);
  return tableLines(columns, [heads, ...rows], options);
}

/** What one kind of part shows, in the order of the columns. */
interface PartKind {
  readonly key: string;
  readonly heads: readonly string[];
  readonly cells: (part: PartBias) => readonly string[];
}

/** Currents below what a bias is solved to are rounding, and so is the power they make: 0. */
const solvedTo = 1e-12;
const amps = (value: number): string => quantity(Math.abs(value) < solvedTo ? 0 : value, 'A');
const power = (value: number): string => quantity(Math.abs(value) < solvedTo ? 0 : value, 'W', 2);

const kinds: readonly PartKind[] = [
  {
    key: 'icA',
    heads: ['IC', 'IB', 'VCE, V', 'VBE, V', 'power'],
    cells: (part) =>
      'icA' in part ? [amps(part.icA), amps(part.ibA), volts(part.vceV), volts(part.vbeV), power(part.powerW)] : [],
  },
  {
    key: 'idA',
    heads: ['ID', 'VDS, V', 'VGS, V', 'power'],
    cells: (part) => ('idA' in part ? [amps(part.idA), volts(part.vdsV), volts(part.vgsV), power(part.powerW)] : []),
  },
  {
    key: 'iaA',
    heads: ['Ia', 'Va, V', 'Vg, V', 'power'],
    cells: (part) => ('iaA' in part ? [amps(part.iaA), volts(part.vaV), volts(part.vgV), power(part.powerW)] : []),
  },
  {
    key: 'outV',
    heads: ['out, V', ''],
    cells: (part) => ('outV' in part ? [volts(part.outV), part.limited ? 'at its limit' : ''] : []),
  },
  {
    key: 'amps',
    heads: ['volts', 'current', 'power'],
    cells: (part) => ('amps' in part ? [volts(part.volts), amps(part.amps), power(part.powerW)] : []),
  },
];

/** One table a kind of part; the parts of one place in all channels stand together, shared ones once. */
function partTables({ channels }: VoltageChart, options: PageOptions): readonly (readonly string[])[] {
  const byPlace = interleaved(channels.map(({ parts }) => parts));
  return kinds.flatMap(({ key, heads, cells }) => {
    const rows = byPlace.filter((part) => key in part).map((part) => [part.ref, ...cells(part)]);
    if (rows.length === 0) return [];
    const columns: readonly Column[] = [{ align: 'left' }, ...heads.map((): Column => ({ align: 'point' }))];
    return [tableLines(columns, [['part', ...heads], ...rows], options)];
  });
}

function interleaved(lists: readonly (readonly PartBias[])[]): readonly PartBias[] {
  const seen = new Map<string, PartBias>();
  const longest = Math.max(0, ...lists.map(({ length }) => length));
  for (let n = 0; n < longest; n++) {
    for (const list of lists) {
      const part = list[n];
      if (part !== undefined && !seen.has(part.ref)) seen.set(part.ref, part);
    }
  }
  return [...seen.values()];
}

function railTable({ rails }: VoltageChart, options: PageOptions): readonly string[] {
  const columns: readonly Column[] = [{ align: 'left' }, { align: 'point' }, { align: 'point' }];
  const rows = rails.map((rail) => [rail.rail, volts(rail.volts), amps(rail.amps)]);
  return tableLines(columns, [['rail', 'V', 'current'], ...rows], options);
}
