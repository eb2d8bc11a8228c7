import { scalarText } from './written.ts';

/**
 * The text of a new job for a board: nothing pulled, nothing fitted yet, with comments that say what goes where.
 * `boardPath` is from the folder of the job's file; `date` as it shall stand there, such as 2026-03-01.
 */
export function jobForBoard(boardPath: string, title: string, date: string): string {
  const [board, name, day] = [boardPath, title, date].map((text) => scalarText(text, 'block'));
  return `# A job: what was found on one board, and what will be fitted.
job: 1
title: ${name}
board: ${board}
date: ${day}
ambient: 25 °C

# One entry for each position, named as on the board; a pair key speaks for both channels, a single designator for its own.
#   pulled: what the old part measured; what is left out stays as drawn.
#   fit: the new part; value, when left out, is the drawn one. Nothing else is taken over from the old part.
#   why: the reason; without fit, looked at and left in.
positions: {}
`;
}
