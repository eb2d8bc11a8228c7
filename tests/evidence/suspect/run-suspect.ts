import { appendFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beliefs, sharesOf } from '../../../packages/verify/src/suspect/posterior.ts';
import { weigher } from '../../../packages/verify/src/suspect/weigh.ts';
import { benchBoard, drawnBoard, furthestMove, measured, randomOf, type BenchBoard } from './bench-board.ts';
import { injectionsOf, type Injection } from './injections.ts';
import { session } from './session.ts';
import { tables, type HealthyLine, type FaultLine, type Line, type SessionLine } from './tables.ts';
import { partShares, placeOf } from './verdict.ts';

const boards = ['lk205', 'lk310', 'lk417', 'lk520', 'lk630'] as const;

/** Standard deviations up to which a fault counts as invisible. */
const invisible = 2;

/** Healthy boards over all seed boards, and sessions on each. */
const healthyBoards = 1000;
const sessionsOfBoard = 10;

/**
 * Every fault of every part on every seed board, healthy boards, and sessions that follow what is worth most. Each result is a line of a file as soon as it is
 * there: a run that was stopped goes on where it was. Returns the tables, which are written beside it.
 */
export function suspectEvidence(folder: string, seed: number = 8): readonly string[] {
  mkdirSync(folder, { recursive: true });
  const file = join(folder, `suspect-${seed}.jsonl`);
  const known = existsSync(file)
    ? readFileSync(file, 'utf8')
        .split('\n')
        .filter((line) => line !== '')
        .map((line) => JSON.parse(line) as Line)
    : [];
  const lines = new Map(known.map((line) => [line.key, line]));
  const keep = (key: string, make: () => Line): void => {
    if (lines.has(key)) return;
    const line = make();
    lines.set(key, line);
    appendFileSync(file, `${JSON.stringify(line)}\n`);
  };
  for (const name of boards) {
    for (const withCurve of [true, false]) {
      const board = benchBoard(name, withCurve);
      const own = weigher(board.catalogue, board.readings, board.shared);
      const offered = withCurve ? 'chart and curve' : 'chart';
      for (const injection of injectionsOn(board, seed)) {
        const key = `fault ${name} ${offered} ${injection.ref} ${injection.kind} ${injection.words}`;
        keep(key, () => faultLine(key, board, own, injection, offered, seed));
      }
      const count = healthyBoards / boards.length;
      for (let n = 0; n < count; n++) {
        const key = `healthy ${name} ${offered} ${n}`;
        keep(key, () => healthyLine(key, board, own, offered, seed));
      }
      if (!withCurve) continue;
      for (const injection of visibleSample(lines, board, seed)) {
        const key = `session ${name} ${injection.ref} ${injection.kind} ${injection.words}`;
        keep(key, () => sessionLine(key, board, injection, seed));
      }
    }
  }
  const told = [`seed ${seed}`, ...tables([...lines.values()])];
  writeFileSync(join(folder, `suspect-${seed}.txt`), `${told.join('\n')}\n`);
  return told;
}

export function injectionsOn({ name, circuit }: BenchBoard, seed: number): readonly Injection[] {
  return circuit.parts.flatMap((part) => injectionsOf(part, randomOf(seed, `${name} ${part.ref}`)));
}

type Own = ReturnType<typeof weigher>;

export function faultLine(
  key: string,
  board: BenchBoard,
  own: Own,
  injection: Injection,
  offered: string,
  seed: number,
): FaultLine {
  const { ref, kind, words } = injection;
  const line = { key, what: 'fault' as const, board: board.name, offered, ref, kind, words, group: [] };
  const moved = furthestMove(board, injection);
  if (moved === null) return { ...line, place: 'no bias' };
  if (moved <= invisible) return { ...line, place: 'invisible' };
  const random = randomOf(seed, key);
  const values = measured(board, injection.apply(drawnBoard(board, random)), random);
  if (values === null) return { ...line, place: 'no bias' };
  return { ...line, ...placeOf(board.catalogue, own, beliefs(board.catalogue, own, values), ref) };
}

export function healthyLine(key: string, board: BenchBoard, own: Own, offered: string, seed: number): HealthyLine {
  const random = randomOf(seed, key);
  const values = measured(board, drawnBoard(board, random), random);
  if (values === null) throw new Error(`${key} has no bias`);
  const shares = sharesOf(beliefs(board.catalogue, own, values));
  const [[ref, share] = ['', 0]] = partShares(board.catalogue, shares);
  return {
    key,
    what: 'healthy',
    board: board.name,
    offered,
    accused: share > 0.5 ? ref : null,
    healthy: shares.healthy,
  };
}

function sessionLine(key: string, board: BenchBoard, injection: Injection, seed: number): SessionLine {
  const random = randomOf(seed, key);
  const values = measured(board, injection.apply(drawnBoard(board, random)), random);
  if (values === null) return { key, what: 'session', board: board.name, guided: null, fixed: null };
  return {
    key,
    what: 'session',
    board: board.name,
    guided: session(board, values, injection.ref, true),
    fixed: session(board, values, injection.ref, false),
  };
}

/** Faults that all readings together put first, one in so many, the same on every run. */
function visibleSample(lines: ReadonlyMap<string, Line>, board: BenchBoard, seed: number): readonly Injection[] {
  const found = injectionsOn(board, seed).filter(({ ref, kind, words }) => {
    const line = lines.get(`fault ${board.name} chart and curve ${ref} ${kind} ${words}`);
    return line?.what === 'fault' && (line.place === 'first' || line.place === 'in three' || line.place === 'tied');
  });
  const stride = Math.max(1, Math.floor(found.length / sessionsOfBoard));
  return found.filter((_, n) => n % stride === 0).slice(0, sessionsOfBoard);
}
