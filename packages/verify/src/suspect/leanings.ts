import type { Circuit } from '@curvewright/board';
import { circuitWithFactors } from '@curvewright/network';
import { streamOf, uniform } from '../spread/uniform.ts';
import type { LooseSpread } from './loose-spread.ts';

/**
 * The board, and two on which every loose value leans a little to one side or the other. A fault in what channels share can make of them a pair that
 * falls to either side: two like channels then stand on the edge between, and no real board does.
 */
export function leanings(circuit: Circuit, { values, groups }: LooseSpread): readonly Circuit[] {
  const leaning = (direction: 1 | -1): Circuit => {
    const factors = new Float64Array(values.length).fill(1);
    for (const { name, members, mean, sigma } of groups) {
      const side = uniform(0, streamOf(name), 0) < 0.5 ? -direction : direction;
      for (const v of members) factors[v] = Math.exp(mean + side * sigma);
    }
    return circuitWithFactors(circuit, values, factors);
  };
  return [circuit, leaning(1), leaning(-1)];
}
