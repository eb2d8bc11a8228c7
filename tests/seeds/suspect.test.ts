import { describe, expect, it } from 'vitest';
import { weigher } from '../../packages/verify/src/suspect/weigh.ts';
import { benchBoard } from '../evidence/suspect/bench-board.ts';
import { faultLine, healthyLine, injectionsOn } from '../evidence/suspect/run-suspect.ts';

/** The seed of the sample; `pnpm evidence suspect` runs all of it, on every board. */
const seed = 20261125;

/** One fault in so many, and so many healthy boards. */
const stride = 7;
const healthyBoards = 60;

describe(`faults injected into healthy boards within tolerance, seed ${seed}`, { timeout: 120_000 }, () => {
  const board = benchBoard('lk205', true);
  const own = weigher(board.catalogue, board.readings, board.shared);

  it('are found first, among three or in a tie of three, nine times in ten', () => {
    const lines = injectionsOn(board, seed)
      .filter((_, n) => n % stride === 0)
      .map((injection) => faultLine(`${injection.ref} ${injection.words}`, board, own, injection, 'chart and curve', seed));
    const visible = lines.filter(({ place }) => place !== 'invisible' && place !== 'no bias');
    const found = visible.filter(({ place }) => ['first', 'in three', 'tied'].includes(place));
    const first = visible.filter(({ place }) => place === 'first');
    console.log(`${lines.length} faults, ${visible.length} visible: ${first.length} first, ${found.length} found`);
    expect(visible.length).toBeGreaterThan(20);
    expect(found.length / visible.length).toBeGreaterThanOrEqual(0.9);
    expect(first.length / visible.length).toBeGreaterThanOrEqual(0.7);
  });

  it('and healthy boards are accused of nothing, but for one in twenty', () => {
    const lines = Array.from({ length: healthyBoards }, (_, n) =>
      healthyLine(`healthy ${n}`, board, own, 'chart and curve', seed),
    );
    const accused = lines.filter((line) => line.accused !== null);
    console.log(`${healthyBoards} healthy boards: ${accused.length} accused`);
    expect(accused.length / healthyBoards).toBeLessThanOrEqual(0.05);
  });
});
