import type { DiagnosticCode } from '@curvewright/board';
import type { Finding } from '@curvewright/verify';
import { hanging, wrap } from '../cells.ts';
import { pageWidth, type PageOptions } from '../page-options.ts';
import { diagnosticGuide, type Explanation } from './diagnostic-guide.ts';
import { findingGuide } from './finding-guide.ts';

const isCode = (word: string): word is DiagnosticCode => Object.hasOwn(diagnosticGuide, word);
const isFinding = (word: string): word is Finding['what'] => Object.hasOwn(findingGuide, word);

/** Every word that can be explained: codes of faults, then names of findings. */
export const explainedWords: readonly string[] = [...Object.keys(diagnosticGuide), ...Object.keys(findingGuide)];

/** What a code or a finding's name means; null for a word that is neither. */
export function explainPage(word: string, options: PageOptions): string | null {
  const width = pageWidth(options);
  if (isCode(word)) {
    const { meaning, remedy, example } = diagnosticGuide[word];
    const shown =
      example === undefined ? [] : ['', ...hanging('not  ', example[0], width), ...hanging('but  ', example[1], width)];
    return [word, '', ...wrap(meaning, width), ...wrap(remedy, width), ...shown].join('\n');
  }
  return isFinding(word) ? [word, '', ...wrap(findingGuide[word], width)].join('\n') : null;
}

/** All of them, a word a line. */
export function explainList(options: PageOptions): string {
  const width = pageWidth(options);
  const line = (word: string, text: string): readonly string[] => hanging(word.padEnd(20), text, width);
  return [
    'Faults of a file or a circuit (with --json: code)',
    ...Object.entries(diagnosticGuide).flatMap(([code, { meaning }]) => line(code, meaning)),
    '',
    'Findings (with --json: what)',
    ...Object.entries(findingGuide).flatMap(([what, text]) => line(what, text)),
  ].join('\n');
}

/** The same as a page of Markdown. */
export function explainGuide(): string {
  const fault = ([code, { meaning, remedy, example }]: readonly [string, Explanation]): readonly string[] => [
    `### \`${code}\``,
    '',
    `${meaning} ${remedy}`,
    '',
    ...(example === undefined ? [] : ['```yaml', `${example[0]}   # not so`, `${example[1]}   # but so`, '```', '']),
  ];
  return [
    '# Faults and findings',
    '',
    'Written by `pnpm guides` from what `curvewright explain` says.',
    '',
    '## Faults',
    '',
    'A file with a fault is refused whole: one line a fault on standard error, `file:line:column: what is wrong; what to write`, exit status 2, and with `--json` the codes below.',
    '',
    ...Object.entries(diagnosticGuide).flatMap(fault),
    '## Findings',
    '',
    'What `check` judges, by the key that its finding carries and its limit has in the file.',
    '',
    ...Object.entries(findingGuide).flatMap(([what, text]) => [`### \`${what}\``, '', text, '']),
  ].join('\n');
}
