import { short } from '../figure/svg-text.ts';
import { square, type Box } from './scene.ts';

/** The least share of each of the five steps, of 1. */
const steps: readonly number[] = [0.01, 0.05, 0.1, 0.2, 0.4];

/** 0 for what is left unshaded, 5 for the largest shares. */
export function stepOf(share: number): number {
  return steps.filter((least) => share >= least).length;
}

export function shareText(share: number): string {
  const percent = 100 * share;
  return percent < 1 ? '< 1 %' : `${Math.round(percent)} %`;
}

/** What a step stands for, for the legend: `5 to 10 %`. */
export function stepWords(step: number): string {
  const [from, to] = [steps[step - 1] ?? 0, steps[step]];
  return to === undefined ? `${100 * from} % and more` : `${100 * from} to ${100 * to} %`;
}

/** Pixels between the hatch lines of each step. */
const distances: readonly number[] = [Infinity, 9, 6.5, 4.5, 3, 2];

/** Lines of hatching through a box, rising to the right and closer with every step, as a path. */
export function hatch(box: Box, step: number): string {
  const distance = distances[step] ?? Infinity;
  const [left, right, top, bottom] = [box.left, box.right, box.top, box.bottom].map((each) => each * square) as [
    number,
    number,
    number,
    number,
  ];
  const lines: string[] = [];
  // Every line is x + y = sum.
  for (let sum = left + top + distance / 2; sum < right + bottom; sum += distance) {
    const from = { x: Math.max(left, sum - bottom), y: Math.min(bottom, sum - left) };
    const to = { x: Math.min(right, sum - top), y: Math.max(top, sum - right) };
    lines.push(`M${short(from.x)} ${short(from.y)}L${short(to.x)} ${short(to.y)}`);
  }
  return lines.join('');
}

/** Pixels of a symbol's strokes at a step. */
export function strokeOf(step: number): number {
  return 1.25 + 0.35 * step;
}
