import { explainedWords, explainList, explainPage } from '@curvewright/report';
import type { Status } from '../answering.ts';
import type { Desk } from '../desk.ts';

/** What a fault's code or a finding's name means; all of them where none is named. */
export function explain(word: string | undefined, desk: Desk): Status {
  const page = word === undefined ? explainList(desk) : explainPage(word, desk);
  if (page !== null) {
    desk.out(page);
    return 0;
  }
  const near = explainedWords.filter((each) => each.includes(word ?? '') || (word ?? '').includes(each));
  const hint = near.length > 0 ? `did you mean ${near.join(' or ')}?` : 'curvewright explain lists them all';
  desk.complain(`${word}: no code of a fault and no finding; ${hint}`);
  return 2;
}
