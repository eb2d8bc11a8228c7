import { describe, expect, it } from 'vitest';
import { cellsOf, clip, wrap } from '../src/cells.ts';
import { refRuns } from '../src/ref-runs.ts';
import { db, decimals, signed, volts } from '../src/numbers.ts';
import { tableLines } from '../src/table.ts';

const page = { width: 60, colour: false };

describe('tables', () => {
  it('set numbers under one another at their decimal point, whatever follows it', () => {
    const lines = tableLines(
      [{ align: 'left' }, { align: 'point' }],
      [
        ['a', '12.3 mV'],
        ['b', '−1.25 V'],
        ['c', '7 V'],
      ],
      page,
    );
    const columns = lines.map((line) => /\d(?=[. ])/.exec(line)?.index);
    expect(new Set(columns).size).toBe(1);
  });

  it('count cells and not characters', () => {
    const lines = tableLines(
      [{ align: 'left' }, { align: 'left' }],
      [
        ['温度', '|'],
        ['R101', '|'],
      ],
      page,
    );
    expect(lines.map((line) => cellsOf(line.slice(0, line.indexOf('|'))))).toEqual([6, 6]);
  });

  it('wrap the one column that gives way, and keep the others whole', () => {
    const description = 'one two three four five six seven eight nine ten eleven';
    const lines = tableLines(
      [{ align: 'left' }, { align: 'left', wraps: true }, { align: 'right' }],
      [['C1', description, '+0.10']],
      {
        ...page,
        width: 40,
      },
    );
    expect(lines.length).toBeGreaterThan(1);
    expect(lines[0]).toMatch(/^C1 {2}one .* \+0\.10$/);
    for (const line of lines) expect(cellsOf(line)).toBeLessThanOrEqual(40);
    expect(lines.join(' ').replace(/ +/g, ' ').replace(' +0.10', '')).toBe(`C1 ${description}`);
  });
});

describe('text in cells', () => {
  it('is clipped with an ellipsis that counts', () => {
    expect(clip('温度計', 5)).toBe('温度…');
    expect(clip('温度計', 4)).toBe('温…');
    expect(clip('R101', 4)).toBe('R101');
  });

  it('wraps at spaces, and cuts a word only where it must', () => {
    expect(wrap('fit 47 µF at C103', 9)).toEqual(['fit 47 µF', 'at C103']);
    expect(wrap('abcdefghij', 4)).toEqual(['abcd', 'efgh', 'ij']);
    expect(wrap('', 4)).toEqual(['']);
  });
});

describe('numbers', () => {
  it('carry U+2212 and a sign where a change is meant', () => {
    expect([db(-0.623), db(0.5), db(0)]).toEqual(['−0.62', '+0.50', '0.00']);
  });

  it('have no sign where rounding leaves nothing', () => {
    expect([db(-0.004), db(0.004), decimals(-0.0001, 2)]).toEqual(['0.00', '0.00', '0.00']);
  });

  it('hold what is no ordinary number', () => {
    expect([db(-Infinity), db(NaN), signed(1e300, 2), decimals(-1e300, 2)]).toEqual(['−∞', '–', '+1e+300', '−1e+300']);
  });

  it('print volts in three digits, none below a millivolt', () => {
    expect([265.4, 31, 9.996, 5.482, 0.6123, 0.00004, -12.34].map(volts)).toEqual([
      '265',
      '31.0',
      '10.0',
      '5.48',
      '0.612',
      '0.000',
      '−12.3',
    ]);
  });
});

describe('runs of designators', () => {
  it('take three or more in a row together', () => {
    expect(refRuns(['R101', 'R103', 'R102', 'Q101', 'Q102', 'D103.1'])).toBe('R101–R103, Q101, Q102, D103.1');
    expect(refRuns([])).toBe('');
  });
});
