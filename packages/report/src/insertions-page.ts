import type { Insertion, InsertionsAnswer } from '@curvewright/verify';
import { wrap } from './cells.ts';
import { db, none, volts } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { stagePage, type StagePageOptions } from './stage-page.ts';
import { tableLines, type Column } from './table.ts';

/** Nodes that a fingerprint shows: those that move furthest over the wrong ways together. */
const shown = 4;

/** For each transistor the voltages and the response of every way it can stand in its holes. */
export function insertionsPage({ standing, positions }: InsertionsAnswer, options: StagePageOptions): string {
  return stagePage(options, 'wrong insertions', (page) => [
    ...standing.map((right) =>
      fingerprints(
        right,
        positions.filter(({ ref }) => ref === right.ref),
        page,
      ),
    ),
    standing.length === 0
      ? ['No transistor stands on this board.']
      : wrap(
          'Volts at the bias, gain at 1 kHz, deviation from the curve at 20 Hz and 10 kHz. Leads from the left hole to the right.',
          page.width,
        ),
  ]);
}

function fingerprints(right: Insertion, wrong: readonly Insertion[], page: PageOptions): readonly string[] {
  const nodes = telling(right, wrong);
  const columns: readonly Column[] = [
    { align: 'left' },
    ...nodes.map((): Column => ({ align: 'point' })),
    ...['gain', '20 Hz', '10 kHz'].map((): Column => ({ align: 'point' })),
  ];
  const row = (way: Insertion, name: string): readonly string[] => [
    name,
    ...nodes.map((node) => voltsAt(way, node)).map((value) => (value === null ? none : volts(value))),
    way.gainDb === null ? none : db(way.gainDb),
    ...[20, 10_000]
      .map((hz) => way.points.find((point) => point.hz === hz))
      .map((point) => (point ? db(point.deviationDb) : none)),
  ];
  const bare = (node: string): string => node.replace(/@.*/, '');
  return tableLines(
    columns,
    [
      [`${right.ref}, ${right.channel}`, ...nodes.map(bare), 'gain', '20 Hz', '10 kHz'],
      row(right, `${right.inserted} as it stands`),
      ...wrong.map((way) => row(way, way.inserted + (way.nodes.length === 0 ? ' no bias' : ''))),
    ],
    page,
  );
}

function telling(right: Insertion, wrong: readonly Insertion[]): readonly string[] {
  const moved = ({ node, volts: before }: Insertion['nodes'][number]): number =>
    wrong.reduce((sum, way) => sum + Math.abs((voltsAt(way, node) ?? before) - before), 0);
  return right.nodes
    .toSorted((a, b) => moved(b) - moved(a))
    .slice(0, shown)
    .map(({ node }) => node);
}

function voltsAt({ nodes }: Insertion, node: string): number | null {
  return nodes.find((each) => each.node === node)?.volts ?? null;
}
