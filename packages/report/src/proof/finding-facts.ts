import type { CheckAnswer, Level } from '@curvewright/verify';
import { byLevel, openFindingGroups, placeWords } from '../finding-groups.ts';
import { valueWords } from '../limit-words.ts';
import { verdictWords } from '../verdict-words.ts';

/** Something to look at, in words. */
export interface FindingFact {
  readonly level: Level;
  readonly head: string;
  readonly cause: string;
  readonly next: readonly string[];
}

export interface VerdictFact {
  readonly level: Level;
  readonly words: string;
}

export function verdictFact(answer: CheckAnswer): VerdictFact {
  return { level: answer.verdict, words: verdictWords(answer) };
}

export function findingFacts(answer: CheckAnswer): readonly FindingFact[] {
  return openFindingGroups(answer).map(({ level, head, cause, next }) => ({ level, head, cause, next }));
}

/** What was off when the unit came in: `✕ bass, right, at 20 Hz: −5.64 dB, most by C104`. */
export function foundFacts({ findings }: CheckAnswer): readonly { readonly level: Level; readonly words: string }[] {
  return findings
    .filter(({ state, counts, level }) => state === 'found' && !counts && level !== 'good')
    .toSorted(byLevel)
    .map((finding) => ({
      level: finding.level,
      words: `${placeWords(finding, [finding.channel])}: ${valueWords(finding)}, most by ${finding.ref}`,
    }));
}
