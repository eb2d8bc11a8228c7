import type { HarmonicBalance } from './harmonic-balance.ts';
import type { SteadyState } from './steady-state.ts';

/**
 * Fills a balance with what states found on the same, a coarser or a finer grid make probable at a level: the straight line over level
 * through one nearby and another; null: rest, at 0 V.
 */
export function startAt(
  balance: HarmonicBalance,
  inputVolts: number,
  near: SteadyState | null,
  other: SteadyState | null,
): void {
  balance.open.fill(0);
  balance.moves.fill(0);
  if (near === null) return;
  const along = (inputVolts - near.inputVolts) / (near.inputVolts - (other?.inputVolts ?? 0));
  addHarmonics(balance, near.start.open, 1 + along);
  if (other) addHarmonics(balance, other.start.open, -along);
  fillMoves(balance, near.start.moves);
}

function addHarmonics({ open, harmonics, controls }: HarmonicBalance, found: Float64Array, share: number): void {
  const width = 2 * harmonics;
  const known = found.length / controls;
  for (let c = 0; c < controls; c++) {
    for (let i = 0; i < Math.min(known, width); i++) {
      open[c * width + i] = open[c * width + i]! + share * found[c * known + i]!;
    }
  }
}

/** Every sample takes the moves of the known one at its instant, or of the last before it. */
function fillMoves({ moves, samples, controls }: HarmonicBalance, found: Float64Array): void {
  const known = found.length / controls;
  for (let n = 0; n < samples; n++) {
    const from = Math.floor((n * known) / samples) * controls;
    moves.set(found.subarray(from, from + controls), n * controls);
  }
}
