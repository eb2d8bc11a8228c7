import type { CheckAnswer, Level } from '@curvewright/verify';

/** What the verdict rests on, counted: `1 outside the limits · 2 to look at`. */
export function verdictWords({ findings }: Pick<CheckAnswer, 'findings'>): string {
  const counting = findings.filter(({ counts }) => counts);
  const count = (level: Level): number => counting.filter((finding) => finding.level === level).length;
  const counts = [
    ...(count('fail') > 0 ? [`${count('fail')} outside the limits`] : []),
    ...(count('look') > 0 ? [`${count('look')} to look at`] : []),
    ...(count('not measured') > 0 ? [`${count('not measured')} not measured`] : []),
  ];
  return counts.length > 0 ? counts.join(' · ') : `${counting.length} figures inside their limits`;
}
