import type { CheckAnswer, Finding, Level } from '@curvewright/verify';
import { hanging } from './cells.ts';
import { inkOf, markOf, paint } from './ink.ts';
import { marginWords, valueWords, wordsOf } from './limit-words.ts';
import { pageWidth, type PageOptions } from './page-options.ts';
import { channelLetter } from './states-shown.ts';
import { tableLines, type Cell, type Column } from './table.ts';

const worstFirst: readonly Level[] = ['fail', 'not measured', 'look', 'good'];

/** What the verdict rests on and is not good, in full: the worst first, then by what it lacks. */
export function openFindings({ findings, limits }: CheckAnswer, options: PageOptions): readonly string[] {
  const width = pageWidth(options);
  const rank = ({ level }: Finding): number => worstFirst.indexOf(level);
  return findings
    .filter(({ counts, level }) => counts && level !== 'good')
    .toSorted((a, b) => rank(a) - rank(b) || a.margin - b.margin)
    .flatMap((finding) => {
      const { level, value, unit, cause, next } = finding;
      const lead = `${markOf[level]} `;
      const head = `${placeWords(finding)}: ${valueWords(value, unit)}, ${marginWords(finding, limits)}`;
      const [first = '', ...others] = hanging(lead, `${level}  ${head}`, width);
      return [
        paint(lead, inkOf[level], options.colour) + first.slice(lead.length),
        ...others,
        ...hanging('  ', sentence(cause), width),
        ...hanging('  Next: ', sentence(next), width),
      ];
    });
}

/** What is good, a line a limit: every channel's value, and the tightest margin. */
export function goodFindings({ findings, limits }: CheckAnswer, options: PageOptions): readonly string[] {
  const good = findings.filter(({ counts, level }) => counts && level === 'good');
  const rows = [...new Set(good.map(({ what }) => what))].map((what): readonly Cell[] => {
    const same = good.filter((finding) => finding.what === what);
    const tightest = same.reduce((least, finding) => (finding.margin < least.margin ? finding : least));
    return [
      { text: markOf.good, ink: inkOf.good },
      wordsOf[what],
      same.map(valueAndPlace).join(' · '),
      marginWords(tightest, limits),
    ];
  });
  const columns: readonly Column[] = [
    { align: 'left' },
    { align: 'left', gap: 1 },
    { align: 'left', wraps: true },
    { align: 'left' },
  ];
  return tableLines(columns, rows, options);
}

/** What other states have that is not good: it explains, and does not count. */
export function contextFindings({ findings }: CheckAnswer, options: PageOptions): readonly string[] {
  const columns: readonly Column[] = [
    { align: 'left' },
    { align: 'left' },
    { align: 'left', gap: 1, wraps: true },
    { align: 'right' },
    { align: 'left' },
  ];
  const context = findings.filter(({ counts }) => !counts);
  const rows = (['found', 'drawn'] as const).flatMap((state) => {
    const own = context.filter((finding) => finding.state === state);
    const open = own.filter(({ level }) => level !== 'good');
    if (own.length === 0) return [];
    if (open.length === 0) return [[`as ${state}`, { text: markOf.good, ink: inkOf.good }, `all ${own.length} good`]];
    const rest = own.length - open.length;
    return [
      ...open.map((finding, n): readonly Cell[] => [
        n === 0 ? `as ${state}` : '',
        { text: markOf[finding.level], ink: inkOf[finding.level] },
        placeWords(finding),
        valueWords(finding.value, finding.unit),
        finding.ref,
      ]),
      ...(rest === 0 ? [] : [['', { text: markOf.good, ink: inkOf.good }, `${rest} others good`] as readonly Cell[]]),
    ];
  });
  return tableLines(columns, rows, options);
}

/** `bass, right, at 20 Hz` */
function placeWords({ what, channel, where }: Finding): string {
  const at = where.replace(/ against drawn$/, '');
  return [wordsOf[what], ...(channel === null || channel === 'mono' ? [] : [channel]), at].join(', ');
}

/** `L −0.32 dB at 30 Hz` */
function valueAndPlace({ channel, value, unit, where }: Finding): string {
  const letter = channel === null || channel === 'mono' ? '' : `${channelLetter(channel)} `;
  return `${letter}${valueWords(value, unit)} ${where.replace(/ against drawn$/, '')}`;
}

function sentence(text: string): string {
  return /[.!?…]$/.test(text) ? text : `${text}.`;
}
