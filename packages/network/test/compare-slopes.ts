import type { Circuit } from '@curvewright/board';
import { biasSensitivities, gainSensitivities, idealSource, type Source } from '../src/index.ts';
import { resolve, resolvedSlopes } from './resolved-slopes.ts';

/** A slope computed by adjoints beside the one found by solving the stage anew, both over the figure's own size. */
export interface Compared {
  readonly what: string;
  readonly adjoint: number;
  readonly resolved: number;
  /** How far the reference's own last two extrapolations lie apart. */
  readonly doubt: number;
}

/** What differs beyond a millionth of the slope and `floor`, and how many the reference itself leaves in doubt by a tenth of that. */
export function beyond(
  compared: readonly Compared[],
  floor: number,
): { readonly wrong: readonly Compared[]; readonly doubtful: number } {
  const allowed = ({ resolved }: Compared): number => 1e-6 * Math.abs(resolved) + floor;
  const certain = compared.filter((each) => each.doubt <= allowed(each) / 10);
  return {
    wrong: certain.filter((each) => !(Math.abs(each.adjoint - each.resolved) <= allowed(each))),
    doubtful: compared.length - certain.length,
  };
}

/**
 * Every parameter of a circuit: gain (re and im over |H|) of every channel at every frequency, and every node's volts. Null where the circuit
 * has no bias; parameters without a bias at either side, and channels whose input does not reach the output, are left out.
 */
export function compareSlopes(
  circuit: Circuit,
  frequencies: Float64Array,
  source: Source = idealSource,
): readonly Compared[] | null {
  const base = resolve(circuit, source, frequencies);
  if (!base) return null;
  const bias = biasSensitivities(base.network, base.point);
  if (!bias) return null;
  const { slopes } = gainSensitivities(base.small, bias, frequencies);
  const sizes = base.gains.map((gain) => gain.map((_, k) => Math.hypot(gain[k & ~1]!, gain[k | 1]!)));
  const nodes = [...base.network.nodes];
  return bias.parameters.flatMap((parameter, p) => {
    const resolved = resolvedSlopes(circuit, source, parameter, frequencies, base.point, ({ gains, point }) => [
      ...gains.flatMap((gain, c) => [...gain].map((value, k) => value / sizes[c]![k]!)),
      ...nodes.map(([, unknown]) => point.x[unknown]!),
    ]);
    if (!resolved) return [];
    const name = `${parameter.ref} ${parameter.parameter}`;
    const own = [
      ...slopes.flatMap((ofChannel, c) =>
        [...ofChannel[p]!].map((value, k) => ({
          what: `${name} on the gain of channel ${c} at ${frequencies[k >> 1]!} Hz`,
          adjoint: value / sizes[c]![k]!,
        })),
      ),
      ...nodes.map(([node, unknown]) => ({ what: `${name} on ${node}`, adjoint: bias.moves[p]![unknown]! })),
    ];
    return own
      .map((each, i) => ({ ...each, resolved: resolved[i]!.slope, doubt: resolved[i]!.doubt }))
      .filter(({ adjoint }) => !Number.isNaN(adjoint));
  });
}
