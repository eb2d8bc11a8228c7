import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { mergeLimits, readBoard } from '@curvewright/board';
import { gainReader, solveStage, type LessonBench } from '@curvewright/verify';

/** `lk417` → the seed board, solved. */
export function seedBench(name: string): LessonBench {
  const text = readFileSync(join(import.meta.dirname, '../../../../seeds/boards', `${name}.board.yaml`), 'utf8');
  const board = readBoard(text, name);
  const stage = board.ok ? solveStage(board.value.circuit) : board;
  if (!board.ok || !stage.ok) throw new Error(`${name} cannot be solved`);
  return { stage: stage.value, reader: gainReader(stage.value), limits: mergeLimits(board.value.limits) };
}
