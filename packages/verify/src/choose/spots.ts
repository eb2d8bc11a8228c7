import type { Limits } from '@curvewright/board';
import type { Probe } from '../figure.ts';
import type { Judged } from '../judge.ts';
import { channelFigures, type RowLayout } from '../spread/board-row.ts';
import type { SpreadFigure } from '../spread/spread-figures.ts';
import type { Sweep } from '../spread/sweep.ts';

/** The lowest and the highest that a number may be. */
export type Span = readonly [low: number, high: number];

/** A level or voltage of a solved row, in dB or V, and where it has to lie. */
export interface Spot {
  /** −1 where the board has no such node any more. */
  readonly place: number;
  readonly good: Span;
  readonly look: Span;
}

/**
 * The limits of bias and curve, taken apart into numbers that nearly add up when several parts are changed: a band's limit becomes one on the
 * level at each of its frequencies, a node's one on its voltage. The order follows from the drawn board and the limits alone.
 */
export function spotsOf(
  figures: readonly SpreadFigure[],
  layout: RowLayout,
  { hz, told }: Sweep,
  drawn: Probe,
  limits: Limits,
): readonly Spot[] {
  const channels = drawn.stage.circuit.channels.map((_, c) => c);
  const inBand = (
    limit: { readonly from: number; readonly to: number } | { readonly at: number },
  ): readonly number[] => {
    const [from, to] = 'at' in limit ? [limit.at, limit.at] : [limit.from, limit.to];
    return told.flatMap((at, n) => (hz[at]! >= from && hz[at]! <= to ? [n] : []));
  };
  const sideOf = (what: string): Judged['side'] => figures.find((figure) => figure.what === what)?.side ?? 'within';
  const levels = channels.flatMap((c) =>
    channelFigures.flatMap((what) =>
      inBand(limits[what]).map((n) => spot(layout.deviation + c * told.length + n, limits[what], sideOf(what))),
    ),
  );
  const differences =
    channels.length < 2 ? [] : inBand(limits.balance).map((n) => spot(layout.difference + n, limits.balance, 'within'));
  const others = figures.filter(({ what }) => what === 'gain' || what === 'output_dc').map(linearSpot);
  const nodes = [...drawn.stage.network.nodes.keys()].map((node): Spot => {
    const place = layout.nodes.indexOf(node);
    const figure = figures.find((each) => each.what === 'node_volts' && each.place === layout.volts + place);
    const anywhere: Span = [-Infinity, Infinity];
    return place < 0 || figure === undefined ? { place: -1, good: anywhere, look: anywhere } : linearSpot(figure);
  });
  return [...levels, ...differences, ...others, ...nodes];
}

function spot(place: number, { good, look }: { good: number; look: number }, side: Judged['side']): Spot {
  return { place, good: spanOf(good, side), look: spanOf(look, side) };
}

function spanOf(limit: number, side: Judged['side']): Span {
  if (side === 'within') return [-limit, limit];
  return side === 'at most' ? [-Infinity, limit] : [limit, Infinity];
}

/** A figure that reads its number as a + b · number, back in the number's own unit. */
function linearSpot(figure: SpreadFigure): Spot {
  const offset = figure.read(0);
  const slope = figure.read(1) - offset;
  const back = ([low, high]: Span): Span => [(low - offset) / slope, (high - offset) / slope];
  return {
    place: figure.place,
    good: back(spanOf(figure.good, figure.side)),
    look: back(spanOf(figure.look, figure.side)),
  };
}
