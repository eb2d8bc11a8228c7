import type { Limits } from '@curvewright/board';
import { influenceAnswer, type Influence } from './influence.ts';
import { noiseAnswer } from './noise.ts';
import { bareName, nodesOfChannel } from './node-volts.ts';
import type { Stage } from './stage.ts';

/** Figures that parts have a share in, beside the bias voltage of a node by its bare name. */
export const shareFigures = ['bass', 'treble', 'gain', 'hiss', 'bias'] as const;

export type ShareFigure = (typeof shareFigures)[number];

/** How much of what moves a figure each part answers for. */
export interface PartShares {
  /** What the shares are of, in words. */
  readonly what: string;
  /** Of 1 among the parts; the largest first. */
  readonly parts: readonly { readonly ref: string; readonly share: number }[];
}

/** Hz, the upper end of the treble limit's band. */
const trebleHz = 20_000;

/**
 * Shares of the parts in a figure of one channel, `node` a bare name. Hiss: of its power. All else: of what one percent of each part's value
 * and figures moves, by magnitude; `bias` is the mean over the channel's nodes. Null where the stage is singular at its bias.
 */
export function partShares(
  stage: Stage,
  channel: string,
  figure: ShareFigure | { readonly node: string },
  limits: Limits,
): PartShares | null {
  if (figure === 'hiss') return hissShares(stage, channel);
  const answer = influenceAnswer(stage, limits, [limits.bass.at, trebleHz]);
  const rows = answer?.channels.find(({ name }) => name === channel)?.parts;
  if (rows === undefined) return null;
  if (typeof figure !== 'string')
    return share(`the voltage of ${figure.node}`, rows, ({ nodeMvPerPercent }) => mvAt(nodeMvPerPercent, figure.node));
  switch (figure) {
    case 'bass':
      return share(`the deviation at ${limits.bass.at} Hz`, rows, (row) => row.deviationDbPerPercent[0]?.db ?? 0);
    case 'treble':
      return share('the deviation at 20 kHz', rows, (row) => row.deviationDbPerPercent[1]?.db ?? 0);
    case 'gain':
      return share('the gain at 1 kHz', rows, ({ gainDbPerPercent }) => gainDbPerPercent);
    case 'bias': {
      const nodes = nodesOfChannel(stage, channel).map(bareName);
      const totals = new Map(
        nodes.map((node) => [node, sum(rows, ({ nodeMvPerPercent }) => mvAt(nodeMvPerPercent, node))]),
      );
      return share('the bias voltages', rows, ({ nodeMvPerPercent }) =>
        nodeMvPerPercent.reduce((all, { node, mv }) => all + portion(Math.abs(mv), totals.get(node) ?? 0), 0),
      );
    }
  }
}

function mvAt(moves: Influence['nodeMvPerPercent'], name: string): number {
  return moves.find(({ node }) => node === name)?.mv ?? 0;
}

function sum(rows: readonly Influence[], of: (row: Influence) => number): number {
  return rows.reduce((all, row) => all + Math.abs(of(row)), 0);
}

function share(what: string, rows: readonly Influence[], of: (row: Influence) => number): PartShares {
  const total = sum(rows, of);
  const refs = [...new Set(rows.map(({ ref }) => ref))];
  const parts = refs.map((ref) => {
    const own = rows.filter((row) => row.ref === ref);
    return { ref, share: portion(sum(own, of), total) };
  });
  return { what, parts: parts.toSorted((a, b) => b.share - a.share) };
}

/** Nothing has a share in what nothing moves. */
function portion(part: number, total: number): number {
  return total > 0 ? part / total : 0;
}

function hissShares(stage: Stage, channel: string): PartShares | null {
  const noise = noiseAnswer(stage).channels.find(({ name }) => name === channel);
  if (noise === undefined) return null;
  const refs = new Set(stage.circuit.parts.map(({ ref }) => ref));
  const own = noise.shares.filter(({ ref }) => refs.has(ref));
  const total = own.reduce((all, each) => all + each.share, 0);
  return { what: 'the hiss', parts: own.map(({ ref, share: part }) => ({ ref, share: portion(part, total) })) };
}
