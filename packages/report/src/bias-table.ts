import type { CheckAnswer, StateAnswer } from '@curvewright/verify';
import { hanging } from './cells.ts';
import { change, none, volts } from './numbers.ts';
import { pageWidth, type PageOptions } from './page-options.ts';
import { channelLetter, statesShown } from './states-shown.ts';
import { tableLines, type Column } from './table.ts';

/** A bench meter tells a node that moved by this fraction and by these volts from one that did not. */
const seen = { fraction: 0.01, volts: 1e-3 };

/** Nodes whose bias the work moves, drawn and now, the channels side by side; those that stay are named in one line. */
export function biasTable(answer: CheckAnswer, options: PageOptions): readonly string[] {
  const [now, state] = statesShown(answer).at(-1) ?? ['drawn', answer.states.drawn];
  const nodes = [...new Set(state.channels.flatMap((channel) => channel.nodes.map(({ node }) => node)))];
  return now === 'drawn' ? biasAsDrawn(answer, nodes, options) : biasMoved(answer, now, state, nodes, options);
}

function biasAsDrawn(answer: CheckAnswer, nodes: readonly string[], options: PageOptions): readonly string[] {
  const columns: readonly Column[] = [
    { align: 'left' },
    ...answer.channels.map((): Column => ({ align: 'point', gap: 3 })),
  ];
  const heads = ['bias, V', ...answer.channels];
  const rows = nodes.map((node) => [
    node,
    ...answer.channels.map((_, c) => printed(voltsAt(answer.states.drawn, c, node))),
  ]);
  return tableLines(columns, [heads, ...rows], options);
}

function biasMoved(
  answer: CheckAnswer,
  now: string,
  state: StateAnswer,
  nodes: readonly string[],
  options: PageOptions,
): readonly string[] {
  const { channels, states } = answer;
  const isMoved = (node: string): boolean =>
    channels.some((_, c) => {
      const [before, after] = [voltsAt(states.drawn, c, node), voltsAt(state, c, node)];
      if (after === undefined || before === undefined) return after !== before;
      const moved = Math.abs(after - before);
      return moved >= seen.volts && moved >= seen.fraction * Math.abs(before);
    });
  const moved = nodes.filter(isMoved);
  const stay = nodes.filter((node) => !isMoved(node));
  const columns: readonly Column[] = [
    { align: 'left' },
    ...channels.flatMap((): Column[] => [{ align: 'point', gap: 3 }, { align: 'point' }, { align: 'right' }]),
  ];
  const letter = (name: string): string => (channels.length > 1 ? `${channelLetter(name)} ` : '');
  const rows = moved.map((node) => [
    node,
    ...channels.flatMap((_, c) => {
      const [before, after] = [voltsAt(states.drawn, c, node), voltsAt(state, c, node)];
      const by = before === undefined || after === undefined ? none : change(after - before, 'V');
      return [printed(before), printed(after), by];
    }),
  ]);
  const heads = ['bias, V', ...channels.flatMap((name) => [`${letter(name)}drawn`, now, 'moves'])];
  return [
    ...(moved.length === 0 ? [] : tableLines(columns, [heads, ...rows], options)),
    ...(stay.length === 0 ? [] : hanging('bias stays within 1 %: ', stay.join(', '), pageWidth(options))),
  ];
}

function voltsAt(state: StateAnswer, channel: number, node: string): number | undefined {
  return state.channels[channel]?.nodes.find((entry) => entry.node === node)?.volts;
}

function printed(value: number | undefined): string {
  return value === undefined ? none : volts(value);
}
