import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readResponseCsv } from '../../src/response-csv/response-csv.ts';
import type { StatedColumns } from '../../src/response-csv/response-columns.ts';

function points(text: string, stated?: StatedColumns): readonly object[] {
  const read = readResponseCsv(text, 'l.csv', stated);
  if (!read.ok) throw new Error(read.diagnostics.map(({ message }) => message).join('\n'));
  return read.value;
}

function faults(text: string, stated?: StatedColumns): readonly string[] {
  const read = readResponseCsv(text, 'l.csv', stated);
  if (read.ok) throw new Error('there was no fault');
  return read.diagnostics.map(({ code, place: { line, column } }) => `${line}:${column} ${code}`);
}

const twoPoints = [
  { hz: 20, db: -1 },
  { hz: 1000, db: 0 },
];

describe('a response measured elsewhere', () => {
  it.each([
    ['commas', 'hz,db\n20,-1\n1000,0\n'],
    ['semicolons', 'Frequency;Level\n20;-1\n1000;0'],
    ['tabs', 'Frequency (Hz)\tMagnitude (dB)\r\n20\t-1\r\n1000\t0\r\n'],
    ['quoted names with the separator in them', '"frequency, Hz","gain, dB"\n20,-1\n1000,0\n'],
    ['comments and empty lines', '# made\n* here\n// today\n\nfreq;db\n20;-1\n# between\n\n1000;0\n'],
    ['columns the other way round', 'Level dB,f [Hz]\n-1,20\n0,1000\n'],
    ['other columns beside them', 'state,hz,channel,gain_db\nfound,20,left,-1\nfound,1000,left,0\n'],
    ['no header', '20,-1\n1000,0\n'],
    ['descending frequencies', 'hz,db\n1000,0\n20,-1\n'],
    ['kHz', 'kHz,dB\n0.02,-1\n1,0\n'],
    ['a byte order mark', '\uFEFFhz,db\n20,-1\n1000,0'],
    ['a true minus sign and powers of ten', 'hz,db\n2e1,−1\n1E+3,0'],
  ])('is read with %s', (_, text) => {
    expect(points(text)).toEqual(twoPoints);
  });

  it('has its phase in degrees or radians', () => {
    expect(points('hz,gain dB,phase deg\n20,-1,90\n')).toEqual([{ hz: 20, db: -1, phaseDeg: 90 }]);
    expect(points('hz;phase of gain (rad);gain (dB)\n20;1;-1')).toEqual([{ hz: 20, db: -1, phaseDeg: 180 / Math.PI }]);
    expect(points('20\t-1\t45')).toEqual([{ hz: 20, db: -1, phaseDeg: 45 }]);
  });

  it.each(['hz,V', 'hz,gain (V/V)', 'hz,level_mV', 'hz,ratio', 'hz,linear gain'])('is a ratio under %s', (header) => {
    expect(points(`${header}\n20,10\n1000,0.1\n`)).toEqual([
      { hz: 20, db: 20 },
      { hz: 1000, db: -20 },
    ]);
  });

  it('has its columns where it is said', () => {
    expect(points('a,b,c\n-1,x,20\n0,x,1000\n', { frequency: 3, level: 1 })).toEqual(twoPoints);
    expect(points('hz,gain_db,deviation_db\n20,19,-1\n1000,0,0\n', { level: 'Deviation_dB' })).toEqual(twoPoints);
    expect(points('hz,x\n20,10\n', { level: 'x', unit: 'linear' })).toEqual([{ hz: 20, db: 20 }]);
  });

  it.each([
    ['a decimal comma', 'hz;db\n20;-1,5\n', ['2:4 comma-decimal']],
    ['a decimal comma among commas', 'hz,db\n20,-1,5\n', ['2:7 wrong-form']],
    ['words for a number', 'hz,db\n20,-1\n30,low\n', ['3:4 wrong-form']],
    ['a number that is missing', 'hz,db\n20,\n30\n', ['2:4 missing-key', '3:1 missing-key']],
    ['frequencies that are none', 'hz,db\n0,1\n-20,1\n', ['2:1 out-of-range', '3:1 out-of-range']],
    ['a ratio of nothing', 'hz,V\n20,0\n', ['2:4 out-of-range']],
    ['a frequency twice', '# one\nhz,db\n20,1\n20,2\n', ['4:1 wrong-form']],
    ['no names that say anything', '# one\na,b\n1,2\n', ['2:1 wrong-form']],
    ['no name for the level', 'hz,x\n1,2\n', ['1:1 wrong-form']],
    ['four columns without names', '1,2,3,4\n', ['1:1 wrong-form']],
    ['names alone', 'hz,db\n', ['1:1 wrong-form']],
    ['nothing', '# nothing\n', ['1:1 wrong-form']],
    ['a quotation mark that stays open', '# one\nhz,db\n20,"1\n', ['3:4 wrong-form']],
    ['numbers too large', 'hz,db\n1e999,1\n', ['2:1 wrong-form']],
  ])('is refused for %s', (_, text, expected) => {
    expect(faults(text)).toEqual(expected);
  });

  it('is refused for columns that are not there', () => {
    expect(faults('hz,db\n1,2\n', { level: 3 })).toEqual(['1:1 wrong-form']);
    expect(faults('hz,db\n1,2\n', { phase: 'arg' })).toEqual(['1:1 wrong-form']);
  });

  it('says which row and column, and what to write', () => {
    const read = readResponseCsv('# mine\nhz;db\n20;-1,5\n', 'l.csv');
    expect(read).toMatchObject({
      diagnostics: [
        { place: { file: 'l.csv', line: 3 }, message: 'row 3, column 2: a decimal comma (-1,5); write -1.5' },
      ],
    });
  });

  it('comes back as it was written, whatever the separator', () => {
    // No negative zero: text has none.
    const level = fc.double({ min: -100, max: 100, noNaN: true }).map((value) => value + 0);
    const response = fc.uniqueArray(
      fc.record({ hz: fc.double({ min: 0.1, max: 1e5, noNaN: true }), db: level, phaseDeg: level }),
      {
        selector: ({ hz }) => hz,
        minLength: 1,
      },
    );
    fc.assert(
      fc.property(response, fc.constantFrom(',', ';', '\t'), fc.boolean(), (rows, mark, named) => {
        const header = named ? [['phase', 'hz', 'dB'].join(mark)] : [];
        const text = rows.map(({ hz, db, phaseDeg }) => (named ? [phaseDeg, hz, db] : [hz, db, phaseDeg]).join(mark));
        expect(points([...header, ...text].join('\n'))).toEqual(rows.toSorted((a, b) => a.hz - b.hz));
      }),
      { seed: 20261125, numRuns: 300 },
    );
  });

  it('is never anything but read or refused with a place', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom('1', '.', ',', ';', '\t', '\n', '"', '#', 'hz', 'db', '-', 'e') }),
        (text) => {
          const read = readResponseCsv(text, 'l.csv');
          if (!read.ok) expect(read.diagnostics[0]!.place.line).toBeGreaterThanOrEqual(1);
          else expect(read.value.every(({ hz, db }) => hz > 0 && Number.isFinite(db))).toBe(true);
        },
      ),
      { seed: 20261125, numRuns: 1000 },
    );
  });
});
