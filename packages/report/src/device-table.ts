import type { CheckAnswer, PartBias, StateAnswer } from '@curvewright/verify';
import { none, quantity, volts } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { statesShown } from './states-shown.ts';
import { tableLines, type Column } from './table.ts';

/** Current, main and control voltage of a transistor or valve, as the table's columns show them. */
interface ThreePoint {
  /** Symbols of the data sheet for the three. */
  readonly symbols: readonly [string, string, string];
  readonly amps: number;
  readonly across: number;
  readonly control: number;
}

/** Bias of transistors and valves, drawn and in the last state; twins that read the same share a line. */
export function deviceTable(answer: CheckAnswer, options: PageOptions): readonly string[] {
  const [now, state] = statesShown(answer).at(-1) ?? ['drawn', answer.states.drawn];
  const alone = now === 'drawn';
  const rows = refsInOrder(state).flatMap((ref) => {
    const [before, after] = [pointOf(answer.states.drawn, ref), pointOf(state, ref)];
    if (after === null) return [];
    const pairs = [
      [before && current(before), current(after)],
      [before && volts(before.across), volts(after.across)],
      [before && volts(before.control), volts(after.control)],
    ] as const;
    return [{ ref, symbols: after.symbols, cells: pairs.flatMap(([was, is]) => (alone ? [is] : [was ?? none, is])) }];
  });
  if (rows.length === 0) return [];
  const symbols = [0, 1, 2].map((n) => [...new Set(rows.map((row) => row.symbols[n]))].join('/'));
  const heads = symbols.flatMap((head) => (alone ? [head] : [`${head} drawn`, now]));
  const columns: readonly Column[] = [
    { align: 'left' },
    ...heads.map((_, c): Column => ({ align: 'point', gap: alone || c % 2 === 0 ? 3 : 2 })),
  ];
  return tableLines(columns, [['bias', ...heads], ...merged(rows)], options);
}

function merged(rows: readonly { ref: string; cells: readonly string[] }[]): readonly (readonly string[])[] {
  const lines: { refs: string[]; cells: readonly string[] }[] = [];
  for (const { ref, cells } of rows) {
    const last = lines.at(-1);
    if (last?.cells.join() === cells.join()) last.refs.push(ref);
    else lines.push({ refs: [ref], cells });
  }
  return lines.map(({ refs, cells }) => [refs.join(' '), ...cells]);
}

/** Twins side by side: the first of every channel, then the second. */
function refsInOrder(state: StateAnswer): readonly string[] {
  const longest = Math.max(0, ...state.channels.map(({ devices }) => devices.length));
  const refs = Array.from({ length: longest }, (_, n) => state.channels.map(({ devices }) => devices[n]?.ref));
  return [...new Set(refs.flat().filter((ref) => ref !== undefined))];
}

function pointOf(state: StateAnswer, ref: string): ThreePoint | null {
  const bias = state.channels.flatMap(({ devices }) => devices).find((device) => device.ref === ref);
  return bias === undefined ? null : threePoint(bias);
}

function threePoint(bias: PartBias): ThreePoint | null {
  if ('icA' in bias) return { symbols: ['IC', 'VCE', 'VBE'], amps: bias.icA, across: bias.vceV, control: bias.vbeV };
  if ('idA' in bias) return { symbols: ['ID', 'VDS', 'VGS'], amps: bias.idA, across: bias.vdsV, control: bias.vgsV };
  if ('iaA' in bias) return { symbols: ['Ia', 'Va', 'Vg'], amps: bias.iaA, across: bias.vaV, control: bias.vgV };
  return null;
}

function current({ amps }: ThreePoint): string {
  return quantity(amps, 'A');
}
