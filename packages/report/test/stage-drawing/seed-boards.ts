import { readFileSync } from 'node:fs';
import { readBoard, type Board } from '@curvewright/board';

export const seedNames = ['lk205', 'lk310', 'lk417', 'lk520', 'lk630'] as const;

export function seedBoard(name: string): Board {
  const file = new URL(`../../../../seeds/boards/${name}.board.yaml`, import.meta.url);
  return boardOf(readFileSync(file, 'utf8'));
}

/** A board from its text; throws where that has a fault. */
export function boardOf(text: string): Board {
  const board = readBoard(text, 'b.yaml');
  if (!board.ok) throw new Error(board.diagnostics.map(({ message }) => message).join('\n'));
  return board.value;
}
