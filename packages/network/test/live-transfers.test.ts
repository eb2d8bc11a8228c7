import { describe, expect, it } from 'vitest';
import { circuitWithValue, type Circuit } from '@curvewright/board';
import { createLiveBoard, inputAdmittance, linearise, railTransfer, solveResponse } from '../src/index.ts';
import { drawsFrom } from './random.ts';
import { randomStage } from './random-stages.ts';
import { biased } from './solved.ts';

const spots = Float64Array.from([50, 100, 1000, 20_000]);
const sweep = Float64Array.from([20, 1000, 20_000]);

/** Largest relative difference of everything that the transfers tell from the same solved densely from nothing; what is below 1e-9 counts as 1e-9. */
function worstGap(circuit: Circuit, factor: number): number {
  const { network, point } = biased(circuit);
  const live = createLiveBoard(network, point, sweep, undefined, spots);
  if (!live?.transfers) throw new Error('no live board');
  const values = Float64Array.from(live.parameters, ({ nominal, parameter }) =>
    parameter === 'value' ? nominal * factor : nominal,
  );
  expect(live.solve(values)).toBe(true);
  const { transfers } = live;

  const written = live.parameters.reduce(
    (whole, { ref, parameter }, k) => (parameter === 'value' ? circuitWithValue(whole, ref, values[k]!) : whole),
    circuit,
  );
  const anew = biased(written);
  const small = linearise(anew.network, anew.point);
  const rails = railTransfer(anew.network, small);
  const { gains } = solveResponse(small, spots);
  let worst = 0;
  const compare = (own: number, expected: number): void => {
    worst = Math.max(worst, Math.abs(own - expected) / Math.max(Math.abs(expected), 1e-9));
  };
  spots.forEach((hz, n) => {
    const fromRails = rails.at(hz);
    circuit.rails.forEach((_, rail) => {
      circuit.channels.forEach((_, channel) => {
        compare(transfers.fromRail(rail, channel, n), fromRails[rail]![channel]!);
      });
    });
    circuit.channels.forEach((_, from) => {
      compare(transfers.inputConductance(from, n), inputAdmittance(small, from)(hz)[0]);
      circuit.channels.forEach((_, to) => {
        const pairs = gains[from]![to]!;
        compare(transfers.fromInput(from, to, n), Math.hypot(pairs[2 * n]!, pairs[2 * n + 1]!));
      });
    });
  });
  return worst;
}

describe('what the generators of a live board do', () => {
  it('is what rails, inputs and admittance do on the board solved anew', () => {
    let worst = 0;
    for (let k = 1; k <= 60; k++) worst = Math.max(worst, worstGap(randomStage(drawsFrom(20261125 + k)).circuit, 1.03));
    console.log(`60 random stages: worst difference ${worst.toExponential(1)}`);
    // The condition of such networks, up to 1e11, times rounding, and a bias found to a billionth on both sides.
    expect(worst).toBeLessThan(1e-6);
  });

  it('is not solved where no spots are asked for', () => {
    const { network, point } = biased(randomStage(drawsFrom(1)).circuit);
    expect(createLiveBoard(network, point, sweep)?.transfers).toBeNull();
  });
});
