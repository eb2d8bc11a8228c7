import type { CheckAnswer, Finding, Level } from '@curvewright/verify';
import { hanging, wrap } from './cells.ts';
import { inkOf, markOf, paint } from './ink.ts';
import { marginWords, numberWords, unitWords, valueWords, wordsOf } from './limit-words.ts';
import { pageWidth, type PageOptions } from './page-options.ts';
import { channelLetter } from './states-shown.ts';
import { tableLines, type Cell, type Column } from './table.ts';

const worstFirst: readonly Level[] = ['fail', 'not measured', 'look', 'good'];

/** What the verdict rests on and is not good, in full, the worst first. */
export function openFindings(answer: CheckAnswer, options: PageOptions): readonly string[] {
  const open = answer.findings.filter(({ counts, level }) => counts && level !== 'good');
  return alike(open.toSorted(byLevel), answer).flatMap((group) => inFull(group, answer, options));
}

/** Margins of different limits have different units, so within a level the order stays. */
function byLevel(a: Finding, b: Finding): number {
  return worstFirst.indexOf(a.level) - worstFirst.indexOf(b.level);
}

function inFull(group: readonly Finding[], { limits }: CheckAnswer, options: PageOptions): readonly string[] {
  const [finding, ...others] = group;
  if (finding === undefined) return [];
  const width = pageWidth(options);
  const { level, cause } = finding;
  const channels = group.map(({ channel }) => channel);
  const head = `${placeWords(finding, channels)}: ${valueWords(finding)}, ${marginWords(finding, limits)}`;
  const [first = '', ...more] = hanging(`${markOf[level]} ${level}  `, head, width);
  const same = others
    .filter(({ ref }) => ref !== finding.ref)
    .map(({ channel, ref }) => ` The same for ${ref}${channel === null ? '' : `, ${channel}`}.`)
    .join('');
  return [
    paint(markOf[level], inkOf[level], options.colour) + first.slice(markOf[level].length),
    ...more,
    ...hanging('  ', sentence(cause) + same, width),
    ...nextSteps(group).flatMap((next) => hanging('  Next: ', sentence(next), width)),
  ];
}

/** One for each set of designators: `at C103 and C104` and `at C104 and C103` are the same work. */
function nextSteps(group: readonly Finding[]): readonly string[] {
  const steps = new Map<string, string>();
  for (const { next } of group) {
    const refs = (next.match(designator) ?? []).toSorted().join(' ');
    if (!steps.has(refs)) steps.set(refs, next);
  }
  return [...steps.values()];
}

const designator = /\b[A-Z]{1,3}\d[\dA-Z]*(?:[.-]\d+)*/g;

/** Findings that read alike but for the channel and the designators stand together: the two halves of a pair. */
function alike(findings: readonly Finding[], { limits }: CheckAnswer): readonly (readonly Finding[])[] {
  const groups = new Map<string, Finding[]>();
  for (const finding of findings) {
    const { level, what, where, cause, next } = finding;
    const words = `${cause}|${next}`.replace(designator, '#');
    const key = [level, what, where, valueWords(finding), marginWords(finding, limits), words].join('|');
    groups.set(key, [...(groups.get(key) ?? []), finding]);
  }
  return [...groups.values()];
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
      valuesAndPlaces(same),
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

/** `L −0.32, R −0.31 dB at 30 Hz`, or each with its own place where the places differ. */
function valuesAndPlaces(findings: readonly Finding[]): string {
  const places = new Set(findings.map(placeOf));
  if (places.size > 1) {
    return findings.map((finding) => `${letterAndValue(finding)}${unitWords(finding)} ${placeOf(finding)}`).join(' · ');
  }
  const unit = findings[0] ? unitWords(findings[0]) : '';
  return `${findings.map(letterAndValue).join(', ')}${unit} ${[...places].join('')}`;
}

function letterAndValue(finding: Finding): string {
  const { channel } = finding;
  return isNamed(channel) ? `${channelLetter(channel)} ${numberWords(finding)}` : numberWords(finding);
}

/** What other states have that is not good: it explains, and does not count. */
export function contextFindings({ findings }: CheckAnswer, options: PageOptions): readonly string[] {
  const width = pageWidth(options);
  const context = findings.filter(({ counts }) => !counts);
  return (['found', 'drawn'] as const).flatMap((state) => {
    const own = context.filter((finding) => finding.state === state);
    const open = own.filter(({ level }) => level !== 'good').toSorted(byLevel);
    const columns: readonly Column[] = [
      { align: 'left' },
      { align: 'left', gap: 1, wraps: true },
      { align: 'right' },
      { align: 'left' },
    ];
    const rows = open.map((finding): readonly Cell[] => [
      { text: markOf[finding.level], ink: inkOf[finding.level] },
      placeWords(finding, [finding.channel]),
      valueWords(finding),
      `most by ${finding.ref}`,
    ]);
    const good = own.length - open.length;
    const summary = good === 0 ? 'nothing good' : open.length === 0 ? `all ${good} good` : `${good} good, not good:`;
    return own.length === 0
      ? []
      : [...wrap(`As ${state}, for comparison: ${summary}`, width), ...tableLines(columns, rows, options)];
  });
}

/** `bass, left and right, at 20 Hz` */
function placeWords(finding: Finding, channels: readonly (string | null)[]): string {
  const names = channels.filter(isNamed).join(' and ');
  return [wordsOf[finding.what], ...(names === '' ? [] : [names]), placeOf(finding)].join(', ');
}

/** Gain and bias are always held against drawn: their limits say so. */
function placeOf({ where }: Finding): string {
  return where.replace(/ against drawn$/, '');
}

function isNamed(channel: string | null): channel is string {
  return channel !== null && channel !== 'mono';
}

function sentence(text: string): string {
  return /[.!?…]$/.test(text) ? text : `${text}.`;
}
