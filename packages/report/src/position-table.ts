import type { CheckAnswer } from '@curvewright/verify';
import { change, db, none } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { tableLines, type Column } from './table.ts';

type PositionEffect = CheckAnswer['effects'][number];

/** What each position does when it alone is done; neighbours that read alike (the two channels of a pair) share a line. */
export function positionTable(answer: CheckAnswer, options: PageOptions): readonly string[] {
  const several = answer.channels.length > 1;
  const rows: { refs: string[]; cells: readonly string[] }[] = [];
  for (const effect of answer.effects) {
    const cells = [effect.description, ...movesOf(effect, several)];
    const before = rows.at(-1);
    if (before?.cells.join('\n') === cells.join('\n')) before.refs.push(effect.ref);
    else rows.push({ refs: [effect.ref], cells });
  }
  if (rows.length === 0) return [];
  const columns: readonly Column[] = [
    { align: 'left' },
    { align: 'left', wraps: true },
    ...['20 Hz', '10 kHz', 'gain', ...(several ? ['balance'] : [])].map((): Column => ({ align: 'right' })),
    { align: 'left' },
    { align: 'right', gap: 1 },
  ];
  const heads = ['position', 'each alone, dB', '20 Hz', '10 kHz', 'gain', ...(several ? ['balance'] : []), 'bias'];
  return tableLines(columns, [heads, ...rows.map(({ refs, cells }) => [refs.join(' '), ...cells])], options);
}

function movesOf({ moves }: PositionEffect, several: boolean): readonly string[] {
  if (moves === null) return [none, none, none, ...(several ? [none] : []), 'no bias'];
  const { at20HzDb, at10kHzDb, gainDb, balanceDb, node, nodeMv } = moves;
  const levels = [at20HzDb, at10kHzDb, gainDb].map(db);
  const balance = several ? [balanceDb === null ? none : db(balanceDb)] : [];
  const moved = Math.abs(nodeMv) >= 0.5;
  return [...levels, ...balance, moved ? node : 'stays', moved ? change(nodeMv / 1000, 'V') : ''];
}
