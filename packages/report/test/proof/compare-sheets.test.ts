import { describe, expect, it } from 'vitest';
import { compareSheets, differencesPage, isSame, proofFacts, proofSheet, readWrittenSheet } from '../../src/index.ts';
import { inventedContent } from './proof-content.ts';

const content = inventedContent();
const sheet = proofSheet(proofFacts(content), content, 'c0de');
const page = (written: string, computed: string = sheet): string =>
  differencesPage(compareSheets(written, computed), 'x.proof.html', { width: 100, colour: false });

describe('a sheet held against one made anew', () => {
  it('is read back: inputs and every printed figure', () => {
    const { inputs, figures } = readWrittenSheet(sheet);
    expect(inputs).toEqual(content.inputs.map(({ role, name, sha256 }) => ({ role, name, sha256 })));
    expect(figures.get('rebuilt L gain 1 kHz')).toBe('35.10');
    expect(figures.get('verdict')).toBe('✕ fail');
    expect(figures.get('read found Q101.collector')).toBe('3.00');
    expect(figures.get('check code')).toBe('c0de');
  });

  it('is the same where every byte is', () => {
    expect(isSame(compareSheets(sheet, sheet))).toBe(true);
    expect(page(sheet)).toContain('● same');
  });

  it('is the same where another version of the program prints the same', () => {
    const older = proofSheet({ ...proofFacts(content), version: '0.9.0' }, content, 'c0de');
    expect(isSame(compareSheets(older, sheet))).toBe(true);
    expect(page(older)).toMatch(/every figure is the same\.\nMade by version 0\.9\.0 of the program; this is 1\.2\.3/);
  });

  it('tells which figure was changed', () => {
    const forged = sheet.replace('>35.10</td>', '>36.10</td>');
    expect(forged).not.toBe(sheet);
    expect(isSame(compareSheets(forged, sheet))).toBe(false);
    expect(page(forged)).toMatch(
      /✕ not the same.*\nFigure drawn L gain 1 kHz: the sheet has 36\.10, computed is 35\.10\./,
    );
  });

  it('tells which input changed, is new, or is used no more', () => {
    const named = (inputs: typeof content.inputs): string => {
      const other = { ...content, inputs };
      return proofSheet(proofFacts(other), other, 'other');
    };
    const [job, board] = content.inputs;
    expect(page(named([job!, { ...board!, sha256: 'd'.repeat(64) }]))).toContain(
      'Input ../x.board.yaml is not the file that the sheet was made from.',
    );
    expect(page(named([job!]))).toContain('Input ../x.board.yaml is used now');
    expect(page(named([...content.inputs, { ...job!, role: 'shop', name: 'shop.yaml' }]))).toContain(
      'Input shop.yaml is named by the sheet, and nothing uses it now.',
    );
  });

  it.each([
    ['a cause', 'costs 1.9', 'costs 0.9'],
    ['the figure', ' d="M', ' d="L'],
    ['words at the end', '</html>', '</html><p>good</p>'],
  ])('tells the line where only %s differs', (_, from, to) => {
    const forged = sheet.replace(from, to);
    const differences = compareSheets(forged, sheet);
    expect(differences).toMatchObject({ same: false, inputs: [], figures: [] });
    expect(sheet.split('\n')[differences.line! - 1]).not.toBe(forged.split('\n')[differences.line! - 1]);
    expect(page(forged)).toContain(`line ${differences.line} of the sheet differs`);
    expect(isSame(differences)).toBe(false);
  });

  it('tells a check code that does not belong to the sheet', () => {
    expect(page(sheet.replaceAll('c0de', 'beef'))).toContain(
      'Figure check code: the sheet has beef, computed is c0de.',
    );
  });

  it('finds nothing in another document', () => {
    expect(readWrittenSheet('<!DOCTYPE html><title>x</title>')).toEqual({ inputs: [], figures: new Map() });
  });
});
