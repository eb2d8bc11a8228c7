import type { Outcome } from './step.ts';
import type { Component } from './outlook.ts';
import type { TrialChance } from './information.ts';

/** Whom an outcome points at. */
const mostNames = 3;

/** Standard deviations within which a reading is as it ought to be. */
const usualReach = 2;

/** As it ought to be, lower or higher; the latter with the range that most of them fall into. */
export function readingOutcomes(
  components: readonly Component[],
  normal: { readonly mean: number; readonly sigma: number },
  print: (mean: number) => string,
): readonly Outcome[] {
  const reach = usualReach * normal.sigma;
  const total = weightOf(components);
  const sides = [
    { name: 'about', own: components.filter(({ mean }) => Math.abs(mean - normal.mean) <= reach) },
    { name: 'lower', own: components.filter(({ mean }) => mean < normal.mean - reach) },
    { name: 'higher', own: components.filter(({ mean }) => mean > normal.mean + reach) },
  ];
  return sides
    .map(({ name, own }) => ({
      shows: name === 'about' ? `about ${print(normal.mean)}, as it ought to be` : `${name}: ${rangeOf(own, print)}`,
      probability: weightOf(own) / total,
      points: pointsOf(own),
    }))
    .filter(({ probability }) => probability >= leastOutcome)
    .sort((x, y) => y.probability - x.probability);
}

const leastOutcome = 0.01;

/** From the tenth part of their weight to the last tenth. */
function rangeOf(components: readonly Component[], print: (mean: number) => string): string {
  const sorted = components.toSorted((a, b) => a.mean - b.mean);
  const total = weightOf(sorted);
  const at = (share: number): number => {
    let passed = 0;
    return (sorted.find(({ weight }) => (passed += weight) >= share * total) ?? sorted.at(-1))?.mean ?? NaN;
  };
  const [low, high] = [print(at(0.1)), print(at(0.9))];
  return low === high ? low : `${low} to ${high}`;
}

export function trialOutcomes(chances: readonly TrialChance[], first: string, second: string): readonly Outcome[] {
  const total = weightOf(chances);
  return (
    [
      [first, (chance: number) => chance],
      [second, (chance: number) => 1 - chance],
    ] as const
  ).map(([shows, of]) => {
    const own = chances.map(({ label, weight, chance }) => ({ label, weight: weight * of(chance) }));
    return { shows, probability: weightOf(own) / total, points: pointsOf(own) };
  });
}

interface Weighted {
  readonly label: string;
  readonly weight: number;
}

function pointsOf(group: readonly Weighted[]): Outcome['points'] {
  const total = weightOf(group);
  const byLabel = new Map<string, number>();
  for (const { label, weight } of group) byLabel.set(label, (byLabel.get(label) ?? 0) + weight / total);
  return [...byLabel]
    .map(([label, probability]) => ({ ref: label === '' ? 'nothing wrong' : label, probability }))
    .sort((a, b) => b.probability - a.probability)
    .slice(0, mostNames);
}

function weightOf(group: readonly { readonly weight: number }[]): number {
  return group.reduce((sum, { weight }) => sum + weight, 0);
}
