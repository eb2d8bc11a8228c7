import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDrawer, type Drawer, type StockPart } from '../../src/index.ts';

function drawerOf(text: string): Drawer {
  const read = readDrawer(text, 'd.csv');
  if (!read.ok) throw new Error(read.diagnostics[0]!.message);
  return read.value;
}

/** What is wrong with a row under this header: code, line and column. */
function faultsOf(header: string, row: string): readonly (readonly [string, number, number])[] {
  const { faults, stock } = drawerOf(`${header}\n${row}\nR1,resistor,10 Ω\n`);
  expect(stock.map((each) => each.stock)).toEqual(['R1']);
  return faults.map(({ code, place }) => [code, place.line, place.column]);
}

describe('a drawer', () => {
  it('gives values in SI units', () => {
    const { stock, faults } = drawerOf(
      'stock,kind,build,value,tolerance,rated,esr,leakage,loss,pitch,diameter,height,quantity,price,note\n' +
        'CE-1,capacitor,aluminium,22 µF,20 %,6.3 V,1.2 Ω,3 µA,0.05,2.5 mm,5 mm,11 mm,40,0.06,invented\n',
    );
    expect(faults).toEqual([]);
    expect(stock[0]).toMatchObject({
      ...{ stock: 'CE-1', kind: 'capacitor', build: 'aluminium', value: 22e-6, rated: 6.3, esr: 1.2, loss: 0.05 },
      ...{ tolerance: { minus: 0.2, plus: 0.2 }, quantity: 40, price: 0.06, note: 'invented' },
      // Ω, of the current at the rated volts.
      leakage: 6.3 / 3e-6,
      body: { pitch: 2.5e-3, diameter: 5e-3, height: 11e-3 },
    });
  });

  it('takes columns in any order and case, keeps those it does not know, and leaves silent what is silent', () => {
    const { stock } = drawerOf('Shelf,VALUE,Kind,Stock,bought\nB 7,4k7,resistor,R-1,\n');
    expect(stock[0]).toMatchObject({
      stock: 'R-1',
      value: 4700,
      quantity: null,
      price: null,
      others: { shelf: 'B 7' },
    });
    expect(stock[0]).not.toHaveProperty('rated');
  });

  it('reads decimals with a comma between semicolons, and refuses them between commas', () => {
    const { stock } = drawerOf('stock;kind;value;price\nR-1;resistor;1 kΩ;0,06\n');
    expect(stock[0]!.price).toBe(0.06);
    expect(faultsOf('stock,kind,value,price', 'X,resistor,1 kΩ,"0,06"')).toEqual([['comma-decimal', 2, 17]]);
  });

  it('gives what a job writes under fit, as it stands', () => {
    const { stock } = drawerOf('stock,kind,build,value,rated,pitch,quantity\nC,capacitor,film,330 nF,63 V,5 mm,2\n');
    expect(stock[0]!.written).toEqual({ build: 'film', value: '330 nF', rated: '63 V', body: { pitch: '5 mm' } });
  });

  it('reads the case that a semiconductor has', () => {
    const { stock } = drawerOf('stock,kind,type,case_leads\nT,npn,HN-D,BCE\n');
    expect(stock[0]).toMatchObject({ type: 'HN-D', caseLeads: { order: 'BCE', view: 'front' } });
  });

  it('of the seeds is read whole', () => {
    const text = readFileSync(new URL('../../../../seeds/drawer.csv', import.meta.url), 'utf8');
    const { stock, faults } = drawerOf(text);
    expect(faults).toEqual([]);
    expect(stock).toHaveLength(text.trim().split('\n').length - 1);
  });
});

describe('a faulty row is left out, and told with row and column:', () => {
  const plain = 'stock,kind,value';
  it.each([
    ['no code', plain, ',resistor,1 kΩ', [['missing-key', 2, 1]]],
    ['no kind', plain, 'X,,1 kΩ', [['missing-key', 2, 1]]],
    ['an unknown kind', plain, 'X,resister,1 kΩ', [['wrong-form', 2, 3]]],
    ['no value', plain, 'X,resistor,', [['missing-key', 2, 1]]],
    ['a bare number', plain, 'X,capacitor,0.68', [['bare-number', 2, 13]]],
    ['another unit', plain, 'X,capacitor,1 kΩ', [['wrong-unit', 2, 13]]],
    ['a negative value', plain, 'X,capacitor,-1 µF', [['out-of-range', 2, 13]]],
    ['a code that is there already', plain, 'R1,resistor,1 kΩ\nR1,resistor,2 kΩ', null],
    ['a cell too many', plain, 'X,resistor,1 kΩ,9', [['wrong-form', 2, 17]]],
    ['half a piece', `${plain},quantity`, 'X,resistor,1 kΩ,0.5', [['out-of-range', 2, 17]]],
    ['words for a count', `${plain},quantity`, 'X,resistor,1 kΩ,some', [['wrong-form', 2, 17]]],
    ['no type', `${plain},type`, 'X,npn,,', [['missing-key', 2, 1]]],
    ['a lead order of a resistor', `${plain},case_leads`, 'X,resistor,1 kΩ,ECB', [['lead-order', 2, 17]]],
    ['leads that a transistor has not', `${plain},type,case_leads`, 'X,npn,,T,EEB', [['lead-order', 2, 10]]],
    ['a leakage current without rated volts', `${plain},leakage`, 'X,capacitor,1 µF,3 µA', [['missing-key', 2, 18]]],
    ['a build of another kind', `${plain},build`, 'X,capacitor,1 µF,wirewound', [['wrong-form', 2, 18]]],
    [
      'two faults, both',
      `${plain},price`,
      'X,capacitor,1 Ω,dear',
      [
        ['wrong-unit', 2, 13],
        ['wrong-form', 2, 17],
      ],
    ],
  ] as const)('%s', (_, header, row, expected) => {
    if (expected === null) {
      const { faults } = drawerOf(`${header}\n${row}\n`);
      expect(faults.map(({ code, place }) => [code, place.line])).toEqual([['designator-twice', 3]]);
    } else expect(faultsOf(header, row)).toEqual(expected);
  });

  it('its message names row and column', () => {
    const { faults } = drawerOf('stock,kind,value\n\nX,capacitor,104\n');
    expect(faults[0]!.message).toMatch(/^row 3, value: /);
  });
});

describe('a table that is no drawer is refused:', () => {
  it.each([
    ['an empty file', '', 'missing-key'],
    ['no column stock', 'kind,value\nresistor,1 kΩ\n', 'missing-key'],
    ['no column kind', 'stock,value\nX,1 kΩ\n', 'missing-key'],
    ['one column twice', 'stock,kind,value,value\n', 'unknown-key'],
    ['an open quotation mark', 'stock,kind\n"X,resistor\n', 'wrong-form'],
  ])('%s', (_, text, code) => {
    const read = readDrawer(text, 'd.csv');
    expect(read.ok ? [] : read.diagnostics.map((each) => each.code)).toContain(code);
  });
});

it('no text makes it throw, and every row is either kept or told', () => {
  const cell = fc.oneof(
    fc.constantFrom('resistor', 'capacitor', 'npn', '1 kΩ', '22 µF', '6.3 V', '', '"', '0,5', '-1', 'ECB', '5 mm', '3'),
    fc.string(),
  );
  const columns = fc.constantFrom('stock', 'kind', 'value', 'type', 'rated', 'leakage', 'quantity', 'case_leads', 'x');
  const table = fc.tuple(
    fc.constantFrom(',', ';'),
    fc.uniqueArray(columns).map((names) => ['stock', 'kind', ...names.filter((name) => !/^(stock|kind)$/.test(name))]),
    fc.array(fc.array(cell, { maxLength: 9 })),
  );
  fc.assert(
    fc.property(table, ([separator, header, rows]) => {
      const text = [header, ...rows].map((row) => row.join(separator)).join('\n');
      const read = readDrawer(text, 'd.csv');
      if (!read.ok) return;
      const { stock, faults } = read.value;
      for (const { place, message } of faults) {
        expect(place.line).toBeGreaterThan(1);
        expect(message).toMatch(/^row \d+/);
      }
      for (const each of stock) expect(kindsAndValues(each)).toBe(true);
    }),
    { seed: 20261125, numRuns: 2000 },
  );
  fc.assert(
    fc.property(fc.string(), (text) => void readDrawer(text, 'd.csv')),
    { seed: 20261125, numRuns: 1000 },
  );
});

/** What is kept says what it is. */
function kindsAndValues({ stock, kind, value, type, quantity }: StockPart): boolean {
  const says = ['resistor', 'capacitor', 'inductor', 'trimmer'].includes(kind)
    ? value !== undefined
    : type !== undefined;
  return stock !== '' && says && (quantity === null || quantity >= 0);
}
