import type { CheckAnswer, Finding } from '@curvewright/verify';
import { hanging, wrap } from './cells.ts';
import { byLevel, isNamed, openFindingGroups, placeOf, placeWords, type FindingGroup } from './finding-groups.ts';
import { inkOf, markOf, paint } from './ink.ts';
import { marginWords, numberWords, unitWords, valueWords, wordsOf } from './limit-words.ts';
import { pageWidth, type PageOptions } from './page-options.ts';
import { channelLetter } from './states-shown.ts';
import { tableLines, type Cell, type Column } from './table.ts';

/** What the verdict rests on and is not good, in full, the worst first. */
export function openFindings(answer: CheckAnswer, options: PageOptions): readonly string[] {
  return openFindingGroups(answer).flatMap((group) => inFull(group, options));
}

function inFull({ level, head, cause, next }: FindingGroup, options: PageOptions): readonly string[] {
  const width = pageWidth(options);
  const [first = '', ...more] = hanging(`${markOf[level]} ${level}  `, head, width);
  return [
    paint(markOf[level], inkOf[level], options.colour) + first.slice(markOf[level].length),
    ...more,
    ...hanging('  ', cause, width),
    ...next.flatMap((step) => hanging('  Next: ', step, width)),
  ];
}

/** What is good, a line a limit: every channel's value, and the tightest margin. Of ratings, polarity and room the part that has least to spare. */
export function goodFindings({ findings, limits }: CheckAnswer, options: PageOptions): readonly string[] {
  const good = findings.filter(({ counts, level }) => counts && level === 'good');
  const rows = [...new Set(good.map(({ what }) => what))].map((what): readonly Cell[] => {
    const same = good.filter((finding) => finding.what === what);
    return [
      { text: markOf.good, ink: inkOf.good },
      wordsOf[what],
      ...(what === 'leads' ? [leadWays(same)] : goodWords(same, limits)),
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

function goodWords(same: readonly Finding[], limits: CheckAnswer['limits']): readonly string[] {
  const ofParts = same.every(({ bound }) => bound !== undefined);
  const tightest = same.reduce((least, finding) => (spare(finding) < spare(least) ? finding : least));
  const told = ofParts
    ? `tightest: ${tightest.where} of ${tightest.ref}, ${valueWords(tightest)}`
    : valuesAndPlaces(same);
  return [told, marginWords(tightest, limits)];
}

/** Margins of parts are of many units: what counts is the share of what is allowed. */
function spare({ what, bound, value, margin }: Finding): number {
  return bound === undefined || what === 'polarity' ? margin : margin / (Math.abs(value) + margin || 1);
}

/** `Q101 and Q102 turned by 180°, flat to the back` */
function leadWays(findings: readonly Finding[]): string {
  const ways = [...new Set(findings.map(({ where }) => where))];
  return ways
    .map(
      (way) =>
        `${findings
          .filter(({ where }) => where === way)
          .map(({ ref }) => ref)
          .join(' ')} ${way}`,
    )
    .join(' · ');
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
