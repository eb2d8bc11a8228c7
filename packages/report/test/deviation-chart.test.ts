import { describe, expect, it } from 'vitest';
import { deviationChart, type ChartCurve } from '../src/deviation-chart.ts';

const limits = { good: 0.5, look: 1, from: 30, to: 15_000 };
const hz = Array.from({ length: 95 }, (_, n) => Math.min(100_000, 2 * 10 ** (n / 20)));

function curve(state: ChartCurve['state'], db: (hz: number) => number): ChartCurve {
  return { state, hz, db: hz.map(db) };
}

function chart(curves: readonly ChartCurve[], width = 80, rows = 13): readonly string[] {
  return deviationChart(curves, limits, { width, rows, colour: false }).split('\n');
}

/** The line whose axis carries this number. */
function rowAt(lines: readonly string[], label: string): string {
  return lines.find((line) => line.slice(0, 4).trim() === label) ?? '';
}

describe('the deviation chart', () => {
  it('draws a flat curve through the zero row, from the first column to the last', () => {
    const row = rowAt(chart([curve('rebuilt', () => 0)]), '0.0');
    // 80 cells less 6 before and 11 behind the plot leave 63.
    expect(row.slice(6, 69)).toBe('━'.repeat(63));
  });

  it('tells the states apart by their lines', () => {
    const lines = chart([curve('drawn', () => 0), curve('found', () => -0.5), curve('rebuilt', () => 0.5)]);
    expect(rowAt(lines, '0.0')).toContain('─'.repeat(60));
    expect(rowAt(lines, '−0.5')).toContain('╌'.repeat(60));
    expect(rowAt(lines, '+0.5')).toContain('━'.repeat(60));
    expect(lines.at(-1)?.trim()).toBe('──── drawn   ╌╌╌╌ found   ━━━━ rebuilt');
  });

  it('puts a step at the column of its frequency', () => {
    const lines = chart([curve('drawn', (f) => (f < 1000 ? -1 : 0))]);
    const upper = rowAt(lines, '0.0');
    const column = upper.indexOf('╭');
    // 1 kHz lies 2.70 of 4.70 decades up the 62 steps: column 35.6. The points are 1/20 decade, 0.7 column apart.
    expect(Math.abs(column - 6 - 35.6)).toBeLessThanOrEqual(1.2);
    expect(rowAt(lines, '−1.0')[column]).toBe('╯');
    const axis = lines.find((line) => line.includes('1k')) ?? '';
    expect(Math.abs(axis.indexOf('1k') - column)).toBeLessThanOrEqual(2);
  });

  it('marks what lies beyond the scale at the edge', () => {
    const lines = chart([curve('drawn', (f) => (f < 20 ? -40 : f > 50_000 ? 40 : 0))]);
    const [top = '', bottom = ''] = [lines[1], lines[lines.length - 4]];
    expect(bottom.slice(6)).toMatch(/^↓{10,16}/);
    expect(top).toMatch(/↑{2,5}/);
    expect(top.indexOf('↑')).toBeGreaterThan(bottom.lastIndexOf('↓'));
  });

  it('holds curves of no finite number', () => {
    for (const value of [-Infinity, Infinity, NaN, -1e300]) {
      expect(chart([curve('drawn', () => value)]).length).toBeGreaterThan(9);
    }
  });

  it('writes the limits on hairlines over their band', () => {
    const row = rowAt(chart([curve('drawn', () => 0)]), '+1.0');
    expect(row).toMatch(/\+1 look$/);
    const band = row.slice(6, 69);
    // 30 Hz is column 15.5, 15 kHz column 51.1 of 62: every second cell of that stretch has a dot.
    expect([band.indexOf('·'), band.lastIndexOf('·')]).toEqual([16, 50]);
  });

  it('leaves out a limit that falls between two rows', () => {
    const between = deviationChart(
      [curve('drawn', () => 0)],
      { ...limits, good: 0.6 },
      { width: 80, rows: 13, colour: false },
    );
    expect(between).not.toContain('good');
    expect(between).toContain('+1 look');
  });

  it.each([50, 80, 110, 160])('fits %i columns and uses 110 at most', (width) => {
    const lines = chart([curve('drawn', (f) => 3 * Math.sin(Math.log(f)))], width);
    for (const line of lines) expect(line.length).toBeLessThanOrEqual(Math.min(width, 110));
    const axis = lines.find((line) => line.includes('└┴')) ?? '';
    expect(axis.length).toBe(Math.min(width, 110) - 11);
  });

  it('keeps to its rows', () => {
    for (const rows of [9, 13, 20]) {
      const lines = chart([curve('drawn', (f) => -10 * Math.log10(1 + (40 / f) ** 2))], 80, rows);
      expect(lines.filter((line) => /^.{5}[┤│]|^ {5}│/.test(line) || /^.{4} ┤/.test(line)).length).toBeLessThanOrEqual(
        rows,
      );
    }
  });

  it('numbers the frequencies without letting them touch', () => {
    for (const width of [50, 62, 80, 110]) {
      const axis = chart([curve('drawn', () => 0)], width).find((line) => line.endsWith(' Hz')) ?? '';
      const labels = axis.trim().split(/ +/);
      for (const label of labels) {
        expect([
          '2',
          '5',
          '10',
          '20',
          '50',
          '100',
          '200',
          '500',
          '1k',
          '2k',
          '5k',
          '10k',
          '20k',
          '50k',
          '100k',
          'Hz',
        ]).toContain(label);
      }
      expect(labels).toEqual(expect.arrayContaining(['10', '100', '1k', '10k', '100k']));
    }
  });
});
