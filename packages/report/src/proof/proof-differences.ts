import { wrap } from '../cells.ts';
import { pageWidth, type PageOptions } from '../page-options.ts';
import { codeName, versionName, type SheetDifferences } from './compare-sheets.ts';

const inputWords = {
  changed: 'is not the file that the sheet was made from',
  'not named': 'is used now, and the sheet does not name it',
  'no longer used': 'is named by the sheet, and nothing uses it now',
} as const;

/** Whether every file and every figure is the same, be it by another version of the program. */
export function isSame({ inputs, figures, line }: SheetDifferences): boolean {
  return inputs.length === 0 && line === null && figures.every(({ name }) => name === versionName);
}

/** What a comparison found, in words; the sheet is called by `sheet`. */
export function differencesPage(differences: SheetDifferences, sheet: string, options: PageOptions): string {
  const { same, inputs, figures, line } = differences;
  const width = pageWidth(options);
  const version = figures.find(({ name }) => name === versionName);
  const code = figures.find(({ name }) => name === codeName);
  const others = figures.filter(({ name }) => name !== codeName && name !== versionName);
  // The code follows from all else: it is told where nothing else differs.
  const told = code !== undefined && others.length === 0 && inputs.length === 0 ? [code] : others;
  const lines = [
    isSame(differences)
      ? `● same  ${sheet}: computed anew from its files, every ${same ? 'byte' : 'figure'} is the same.`
      : `✕ not the same  ${sheet}`,
    ...inputs.map(({ name, what }) => `Input ${name} ${inputWords[what]}.`),
    ...(version === undefined
      ? []
      : [`Made by version ${shown(version.written)} of the program; this is ${shown(version.computed)}.`]),
    ...told.map(
      ({ name, written, computed }) =>
        `Figure ${name}: the sheet has ${shown(written)}, computed is ${shown(computed)}.`,
    ),
    ...(line === null ? [] : [`Files and figures are the same, the text is not: line ${line} of the sheet differs.`]),
  ];
  return lines.flatMap((each) => wrap(each, width)).join('\n');
}

function shown(text: string | null): string {
  return text === null ? 'none' : text === '' ? 'nothing' : text;
}
