import { mergeLimits, type Limits } from '@curvewright/board';
import { isWorse, levelOf, marginTo, type Judged, type Level } from '../judge.ts';
import type { Probe } from '../figure.ts';
import type { RowLayout } from '../spread/board-row.ts';
import type { SpreadFigure } from '../spread/spread-figures.ts';
import type { Sweep } from '../spread/sweep.ts';
import { bareName } from '../node-volts.ts';
import type { Spot } from './spots.ts';

/** How a stage differs from the drawn one. */
export interface Changes {
  /** The furthest level difference of a channel from 20 Hz to 20 kHz, signed, and where. */
  readonly curveDb: number;
  readonly hz: number;
  /** At 1 kHz, the channel that moves more. */
  readonly gainDb: number;
  /** The node whose bias moves most against what healthy boards reach, and by how much. */
  readonly node: string;
  readonly nodeMv: number;
}

/** Bias, curve, hum, crosstalk and input resistance of the rework with something put in, judged. */
export interface Trial {
  readonly level: Level;
  /** Figures that are not good, the worst first. */
  readonly open: readonly Judged[];
  /** The least of all margins, as a share of its limit. */
  readonly margin: number;
  /** What the figures that are not good lack together, as shares of their limits. */
  readonly shortfall: number;
  readonly changes: Changes;
  /** The larger of the curve's change over the deviation's limit and the bias's over its own. */
  readonly change: number;
  /** Every level and voltage that a limit bounds, in the order of `spotsOf`. */
  readonly spots: Float32Array;
}

/** A node's bias is held against what healthy boards of the drawing reach, as a check holds it, where the limits are the usual ones. */
export function heldAgainstReach(
  figures: readonly SpreadFigure[],
  layout: RowLayout,
  { nodeReach }: Probe,
  limits: Limits,
): readonly SpreadFigure[] {
  const usual = mergeLimits().node_volts;
  const isUsual = limits.node_volts.good === usual.good && limits.node_volts.look === usual.look;
  if (nodeReach === undefined || !isUsual) return figures;
  return figures.map((figure) => {
    const node = figure.what === 'node_volts' ? layout.nodes[figure.place - layout.volts] : undefined;
    const reach = node === undefined ? undefined : nodeReach.get(node);
    if (reach === undefined) return figure;
    // Percent for a volt: what the figure reads is linear in the voltage.
    const good = Math.max(reach, limits.node_volts.floor) * Math.abs(figure.read(1) - figure.read(0));
    return { ...figure, good, look: 2 * good };
  });
}

/** Reads a solved row into a trial; `gains` are the row's, dB over the sweep. */
export function trialReader(
  figures: readonly SpreadFigure[],
  spots: readonly Spot[],
  layout: RowLayout,
  sweep: Sweep,
  drawn: Probe,
  limits: Limits,
): (row: Float64Array, gains: readonly Float64Array[]) => Trial {
  const before = drawn.stage.circuit.channels.map((_, c) => sweep.hz.map((hz) => drawn.reader.gainDb(c, hz)));
  const [first, last] = [sweep.hz.findIndex((hz) => hz >= 20), sweep.hz.findLastIndex((hz) => hz <= 20_000)];
  const nodes = figures.filter(({ what }) => what === 'node_volts');
  return (row, gains) => {
    const open: Judged[] = [];
    let level: Level = 'good';
    let margin = Infinity;
    let shortfall = 0;
    for (const figure of figures) {
      const value = figure.read(row[figure.place]!);
      const share = shareOf(figure, value);
      margin = Math.min(margin, share);
      const its = levelOf(figure, value);
      if (its === 'good') continue;
      shortfall -= share;
      open.push({ ...figure, value });
      if (isWorse(its, level)) level = its;
    }
    let [curveDb, at] = [0, first];
    gains.forEach((gain, c) => {
      for (let i = first; i <= last; i++) {
        const moved = gain[i]! - before[c]![i]!;
        if (Math.abs(moved) > Math.abs(curveDb)) [curveDb, at] = [moved, i];
      }
    });
    let [gainDb, most, bias] = [0, nodes[0], 0];
    gains.forEach((gain, c) => {
      const moved = gain[sweep.reference]! - before[c]![sweep.reference]!;
      if (Math.abs(moved) > Math.abs(gainDb)) gainDb = moved;
    });
    for (const figure of nodes) {
      const share = Math.abs(figure.read(row[figure.place]!)) / figure.good;
      if (share > bias) [bias, most] = [share, figure];
    }
    return {
      level,
      open: open.sort((a, b) => shareOf(a, a.value) - shareOf(b, b.value)),
      margin,
      shortfall,
      changes: { curveDb, hz: sweep.hz[at]!, gainDb, ...movedNode(most, row) },
      change: Math.max(Math.abs(curveDb) / limits.deviation.good, bias),
      spots: Float32Array.from(spots, ({ place }) => row[place] ?? NaN),
    };
  };

  function movedNode(figure: SpreadFigure | undefined, row: Float64Array): Pick<Changes, 'node' | 'nodeMv'> {
    if (figure === undefined) return { node: '', nodeMv: 0 };
    const perVolt = figure.read(1) - figure.read(0);
    const node = layout.nodes[figure.place - layout.volts] ?? '';
    return { node: bareName(node), nodeMv: (1000 * figure.read(row[figure.place]!)) / perVolt };
  }
}

/** A margin to good as a share of the limit itself: 1 at a figure of nothing, 0 at the limit. */
export function shareOf(figure: Judged, value: number): number {
  return marginTo(figure, figure.good, value) / (Math.abs(figure.good) || 1);
}
