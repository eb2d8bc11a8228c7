import { boardJsonSchema } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { placeInText } from '../../src/page/editor/place-in-text.ts';
import { describedAt, keysAt, valuesAt, type Schema } from '../../src/page/editor/schema-walk.ts';

const board = `board: 1
title: Larkfield, {invented
rails:
  vcc: { volts: 26 V, resi
parts:
  # a comment { with a bracket
  R101/R102: { kind: resistor, between: [in, gnd] }
  C101/C102:
    { kind: capacitor, build: al, seat: { pitch: [2.5 mm, 5 mm],
      hei
`;

function after(text: string): ReturnType<typeof placeInText> {
  return placeInText(board, board.indexOf(text) + text.length);
}

describe('where the cursor stands in a half-written text', () => {
  it.each([
    ['board: 1', { path: ['board'], of: 'value', written: '1' }],
    ['vcc: { volts: 26', { path: ['rails', 'vcc', 'volts'], of: 'value', written: '26' }],
    ['resi', { path: ['rails', 'vcc'], of: 'key', written: 'resi' }],
    ['R101/R102: { kind: res', { path: ['parts', 'R101/R102', 'kind'], of: 'value', written: 'res' }],
    ['between: [in, g', { path: ['parts', 'R101/R102', 'between', null], of: 'value', written: 'g' }],
    ['capacitor, build: al', { path: ['parts', 'C101/C102', 'build'], of: 'value', written: 'al' }],
    ['hei', { path: ['parts', 'C101/C102', 'seat'], of: 'key', written: 'hei' }],
  ])('after %j', (text, place) => {
    expect(after(text)).toMatchObject(place);
  });

  it('on an empty line goes by the indentation', () => {
    const text = 'parts:\n  R1: { kind: resistor }\n  ';
    expect(placeInText(text, text.length)).toMatchObject({ path: ['parts'], of: 'key', written: '' });
  });

  it('is nowhere in a comment', () => {
    expect(after('# a comm')).toBeNull();
  });
});

describe('what the schema says at a path', () => {
  const schema = boardJsonSchema() as Schema;

  it('offers keys, choices and help for a part', () => {
    expect([...keysAt(schema, ['parts', 'C1']).keys()]).toEqual(
      expect.arrayContaining(['kind', 'build', 'value', 'esr']),
    );
    expect(valuesAt(schema, ['parts', 'C1', 'kind'])).toEqual(expect.arrayContaining(['resistor', 'capacitor']));
    expect(describedAt(schema, ['parts', 'C1', 'esr'])).toMatch(/Ω/);
  });

  it('knows nothing of a key that does not exist', () => {
    expect(valuesAt(schema, ['nothing'])).toEqual([]);
    expect(describedAt(schema, ['nothing'])).toBeNull();
  });
});
