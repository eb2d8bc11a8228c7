import type { CheckAnswer, Finding, Level } from '@curvewright/verify';
import { marginWords, measureWords, valueWords, wordsOf } from './limit-words.ts';

const worstFirst: readonly Level[] = ['fail', 'not measured', 'look', 'good'];

/** Findings that are one piece of work, in words. */
export interface FindingGroup {
  readonly level: Level;
  readonly findings: readonly Finding[];
  /** What is off, where, by how much. */
  readonly head: string;
  readonly cause: string;
  readonly next: readonly string[];
}

/** What the verdict rests on and is not good, the worst first; the two halves of a pair stand together. */
export function openFindingGroups(answer: Pick<CheckAnswer, 'findings' | 'limits'>): readonly FindingGroup[] {
  const open = answer.findings.filter(({ counts, level }) => counts && level !== 'good');
  return alike(open.toSorted(byLevel), answer).flatMap((group) => inWords(group, answer));
}

/** Margins of different limits have different units, so within a level the order stays. */
export function byLevel(a: Finding, b: Finding): number {
  return worstFirst.indexOf(a.level) - worstFirst.indexOf(b.level);
}

function inWords(findings: readonly Finding[], { limits }: Pick<CheckAnswer, 'limits'>): readonly FindingGroup[] {
  const [finding, ...others] = findings;
  if (finding === undefined) return [];
  const channels = findings.map(({ channel }) => channel);
  const same = others
    .filter(({ ref }) => ref !== finding.ref)
    .map(({ channel, ref }) => ` The same for ${ref}${channel === null ? '' : `, ${channel}`}.`)
    .join('');
  return [
    {
      level: finding.level,
      findings,
      head: placeWords(finding, channels) + measureWords(finding, limits),
      cause: sentence(finding.cause) + same,
      next: nextSteps(findings).map(sentence),
    },
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
function alike(findings: readonly Finding[], { limits }: Pick<CheckAnswer, 'limits'>): readonly (readonly Finding[])[] {
  const groups = new Map<string, Finding[]>();
  for (const finding of findings) {
    const { level, what, where, cause, next } = finding;
    const words = `${cause}|${next}`.replace(designator, '#');
    const key = [level, what, where, valueWords(finding), marginWords(finding, limits), words].join('|');
    groups.set(key, [...(groups.get(key) ?? []), finding]);
  }
  return [...groups.values()];
}

/** `bass, left and right, at 20 Hz` */
export function placeWords(finding: Finding, channels: readonly (string | null)[]): string {
  const names = channels.filter(isNamed).join(' and ');
  return [wordsOf[finding.what], ...(names === '' ? [] : [names]), placeOf(finding)].join(', ');
}

/** Gain and bias are always held against drawn: their limits say so. */
export function placeOf({ where }: Finding): string {
  return where.replace(/ against drawn$/, '');
}

export function isNamed(channel: string | null): channel is string {
  return channel !== null && channel !== 'mono';
}

function sentence(text: string): string {
  return /[.!?…]$/.test(text) ? text : `${text}.`;
}
