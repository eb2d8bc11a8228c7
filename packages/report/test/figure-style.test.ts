import { describe, expect, it } from 'vitest';
import { inks, inkVariable, lookStyles, type InkName } from '../src/figure/figure-style.ts';

/** Relative luminance and contrast ratio of WCAG 2.2. */
function contrast(a: string, b: string): number {
  const luminance = (ink: string): number => {
    const [red, green, blue] = [1, 3, 5].map((from) => {
      const share = parseInt(ink.slice(from, from + 2), 16) / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
  };
  const [darker, lighter] = [luminance(a), luminance(b)].toSorted((x, y) => x - y);
  return (lighter! + 0.05) / (darker! + 0.05);
}

describe('the looks', () => {
  it.each(['light', 'dark'] as const)('have ink enough on %s paper', (paper) => {
    const over = (name: InkName): number => contrast(inks[name][paper], inks.paper[paper]);
    // WCAG 2.2: 1.4.3 asks 4.5:1 of text, 1.4.11 asks 3:1 of lines.
    for (const name of ['text', 'muted'] as const) expect(over(name)).toBeGreaterThanOrEqual(4.5);
    for (const { ink } of Object.values(lookStyles)) expect(over(ink)).toBeGreaterThanOrEqual(3);
  });

  it('are told apart without colour', () => {
    const plain = Object.values(lookStyles).map(({ width, dash, mark }) => JSON.stringify([width, dash, mark]));
    expect(new Set(plain).size).toBe(plain.length);
    // Solid lines differ in width by half as much again at least, or the eye takes them for the same.
    const solid = Object.values(lookStyles)
      .filter(({ width, dash }) => width > 0 && dash.length === 0)
      .map(({ width }) => width)
      .toSorted((a, b) => a - b);
    for (let i = 1; i < solid.length; i++) expect(solid[i]! / solid[i - 1]!).toBeGreaterThanOrEqual(1.5);
  });

  it('ask the page for their inks by name', () => {
    expect(inkVariable('rebuilt')).toBe('--ink-rebuilt');
  });
});
