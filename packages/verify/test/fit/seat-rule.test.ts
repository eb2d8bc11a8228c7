import { describe, expect, it } from 'vitest';
import { boardWith, fittedRows, rowOf } from './fit-boards.ts';

const board = (seat: string, body = ''): ReturnType<typeof boardWith> =>
  boardWith(
    `C9: { kind: capacitor, build: film, value: 1 µF, rated: 63 V, between: [vcc, gnd], seat: { ${seat} }${body} }`,
  );

const fitted = (seat: string, body: string, where: string): ReturnType<typeof rowOf> =>
  rowOf(
    fittedRows(board(seat), `C9: { fit: { rated: 63 V${body === '' ? '' : `, body: { ${body} }`} } }`),
    'C9',
    'seat',
    where,
  );

describe('the room of a place', () => {
  it.each([
    ['height: 12 mm', 'height: 12 mm', 'height', 'good', 0],
    ['height: 12 mm', 'height: 12.1 mm', 'height', 'fail', -0.1],
    ['diameter: 8 mm', 'diameter: 8 mm', 'diameter', 'good', 0],
    ['diameter: 8 mm', 'diameter: 8.5 mm', 'diameter', 'fail', -0.5],
    // Common practice, no source: 0.3 mm between leads and holes is no forming.
    ['pitch: 5 mm', 'pitch: 5.3 mm', 'pitch', 'good', 0],
    ['pitch: 5 mm', 'pitch: 5.4 mm', 'pitch', 'look', -0.1],
    ['pitch: [2.5 mm, 5 mm]', 'pitch: 2.5 mm', 'pitch', 'good', 0.3],
    ['pitch: [2.5 mm, 5 mm]', 'pitch: 5 mm', 'pitch', 'good', 0.3],
    ['pitch: [2.5 mm, 5 mm]', 'pitch: 3.5 mm', 'pitch', 'look', -0.7],
  ])('with %s for %s: %s is %s', (seat, body, where, level, margin) => {
    const row = fitted(seat, body, where);
    expect(row).toMatchObject({ level, unit: 'mm' });
    // Sizes are read from decimals of a millimetre.
    expect(row?.margin).toBeCloseTo(margin, 9);
  });

  it('says by how many millimetres a part is too tall', () => {
    expect(fitted('height: 12 mm', 'height: 14.5 mm', 'height')?.cause).toContain('too tall by 2.5 mm');
    expect(fitted('diameter: 8 mm', 'diameter: 9 mm', 'diameter')?.cause).toContain('too wide by 1 mm');
  });

  it('says how far each lead is to be formed, and which way', () => {
    expect(fitted('pitch: 7.5 mm', 'pitch: 5 mm', 'pitch')?.next).toContain('by 1.25 mm outwards');
    expect(fitted('pitch: 5 mm', 'pitch: 7 mm', 'pitch')?.next).toContain('by 1 mm inwards');
  });

  it('is not measured for a fitted part without a size, and not asked of one that stays', () => {
    expect(fitted('height: 12 mm', '', 'size')).toMatchObject({ level: 'not measured', margin: NaN });
    expect(fitted('height: 12 mm', 'diameter: 5 mm', 'size')?.level).toBe('not measured');
    expect(fitted('height: 12 mm, diameter: 8 mm', 'height: 9 mm', 'size')).toBeUndefined();
    const left = fittedRows(board('height: 12 mm'), 'C9: { why: left in }');
    expect(left.filter(({ what }) => what === 'seat')).toEqual([]);
  });

  it('is asked of a drawn part whose size the board states', () => {
    const rows = fittedRows(board('height: 12 mm', ', body: { height: 13 mm }'), 'R1: { why: left in }');
    expect(rowOf(rows, 'C9', 'seat', 'height')?.level).toBe('fail');
  });

  it('asks the members of a pair for their height, not for a pitch of their own', () => {
    const one = '{ value: 0.47 µF, rated: 63 V, body: { pitch: 10 mm, height: 13 mm } }';
    const rows = fittedRows(board('pitch: 5 mm, height: 12 mm'), `C9: { fit: { parallel: [${one}, ${one}] } }`);
    const seats = rows.filter(({ what }) => what === 'seat').map(({ ref, where, level }) => [ref, where, level]);
    expect(seats).toEqual([
      ['C9.1', 'height', 'fail'],
      ['C9.2', 'height', 'fail'],
    ]);
  });
});
