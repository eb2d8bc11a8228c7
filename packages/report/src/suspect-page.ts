import type { Unit } from '@curvewright/quantity';
import type { NextStep, ReadAgainst, Suspect, SuspectAnswer, Suspicion } from '@curvewright/verify';
import { hanging, wrap } from './cells.ts';
import { decimals, none, quantity, signed } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { stagePage, type StagePageOptions } from './stage-page.ts';
import { tableLines, type Cell, type Column } from './table.ts';

/** Suspects whose predictions are set beside the readings, and steps whose outcomes are told. */
const compared = 3;
const toldSteps = 4;

/** The answer in a sentence, the suspects, readings against predictions, what to do next. */
export function suspectPage(answer: SuspectAnswer, options: StagePageOptions): string {
  return stagePage(options, 'suspects', (page) => [
    verdict(answer, page),
    suspects(answer, page),
    ties(answer, page),
    readings(answer, page),
    next(answer, page),
    notes(answer, page),
  ]);
}

function verdict(
  { answer, nothingWrong, rails, suspects: [first], readings: read, heard }: SuspectAnswer,
  { width }: PageOptions,
): readonly string[] {
  const rest = `${percent(nothingWrong)} that nothing is wrong`;
  const words =
    answer === 'no single fault'
      ? noSingle(first, read)
      : answer === 'nothing wrong'
        ? `Nothing wrong in these readings: ${percent(nothingWrong)}.`
        : `Suspected first: ${first === undefined ? 'nobody' : `${faultsText(first)}, ${percent(first.probability)}`}; ${rest}.`;
  return [
    ...rails.flatMap(({ volts, expected, advice }) =>
      wrap(
        `${advice}: it reads ${decimals(volts, 1)} V in place of ${decimals(expected, 1)} V. What follows is computed with it as measured.`,
        width,
      ),
    ),
    ...wrap(words, width),
    ...wrap(
      `From ${read.length} reading${read.length === 1 ? '' : 's'}${heard.length === 0 ? '' : ` and what is heard: ${heard.map(({ what, channel }) => (channel === null ? what : `${what}, ${channel}`)).join('; ')}`}.`,
      width,
    ),
  ];
}

/** Chance below which no pair is an explanation either. */
const leastChance = 1e-3;

function noSingle(first: Suspect | undefined, read: readonly ReadAgainst[]): string {
  const words = 'No single fault explains these readings';
  if (first !== undefined && first.chance >= leastChance) return `${words}. The likeliest pair: ${faultsText(first)}.`;
  const off = ({ measured, normal, sigma }: ReadAgainst): number => Math.abs(measured - normal) / sigma;
  const furthest = read.toSorted((a, b) => off(b) - off(a))[0]?.name ?? '';
  const nearest = first === undefined ? '' : ` Nearest: ${faultsText(first)}.`;
  return `${words}, and no pair that was tried. Take them again, ${furthest} first.${nearest}`;
}

const suspectColumns: readonly Column[] = [
  { align: 'right' },
  { align: 'left' },
  { align: 'left', wraps: true },
  { align: 'right' },
  { align: 'right' },
];

function suspects({ suspects: all, readings: read }: SuspectAnswer, page: PageOptions): readonly string[] {
  if (all.length === 0) return [];
  const fit = (square: number): string => (read.length === 0 ? none : decimals(square / read.length, 1));
  return tableLines(
    suspectColumns,
    [
      ['%', 'part', 'what is wrong', 'fitted', 'χ²/n'],
      ...all.map((each): readonly Cell[] => [
        decimals(100 * each.probability, 1),
        each.faults.map(({ ref, others }) => [ref, ...others].join(', ')).join(' and '),
        each.faults.map(({ words }) => words).join(' and '),
        each.faults
          .map(fittedText)
          .filter((text) => text !== '')
          .join(' and '),
        fit(each.square),
      ]),
    ],
    page,
  );
}

function ties({ ties: groups }: SuspectAnswer, { width }: PageOptions): readonly string[] {
  return groups.flatMap((refs) =>
    hanging('Tied: ', `${refs.join(', ')}: these readings cannot tell them apart.`, width),
  );
}

function readings({ readings: read, suspects: all }: SuspectAnswer, page: PageOptions): readonly string[] {
  if (read.length === 0) return [];
  const beside = all.slice(0, compared);
  const columns: readonly Column[] = [
    { align: 'left' },
    { align: 'point' },
    { align: 'point' },
    { align: 'right' },
    ...beside.map((): Column => ({ align: 'point' })),
    { align: 'left', gap: 1 },
  ];
  return tableLines(
    columns,
    [
      [
        'reading',
        'measured',
        'healthy',
        'off, σ',
        ...beside.map(({ faults }) => faults.map(({ ref }) => ref).join('+')),
        '',
      ],
      ...read.map((each, n) => [
        each.name,
        inUnit(each, each.measured),
        inUnit(each, each.normal),
        signed((each.measured - each.normal) / each.sigma, 1),
        ...beside.map(({ predicted }) => inUnit(each, predicted[n] ?? NaN)),
        each.unit,
      ]),
    ],
    page,
  );
}

function next({ next: steps, answer }: SuspectAnswer, { width }: PageOptions): readonly string[] {
  if (steps.length === 0) return answer === 'suspects' ? ['No measurement at hand would tell more.'] : [];
  return [
    'What to do next, that with most to learn in a minute first',
    ...steps.flatMap((step, n) => [
      ...hanging(
        `${n + 1}. `,
        `${step.action}: ${decimals(step.minutes, 0)} min, ${decimals(step.bits, 2)} bit.${n < toldSteps ? ` Mind: ${step.caution}.` : ''}`,
        width,
      ),
      ...(n < toldSteps ? step.outcomes.flatMap((outcome) => outcomeLines(outcome, width)) : []),
    ]),
  ];
}

function outcomeLines({ shows, probability, points }: NextStep['outcomes'][number], width: number): readonly string[] {
  const who = points.map(({ ref, probability: share }) => `${ref} ${percent(share)}`).join(', ');
  return hanging('   · ', `${shows} (${percent(probability)}): ${who}`, width);
}

function notes({ unknown, notes: all }: SuspectAnswer, { width }: PageOptions): readonly string[] {
  const left = unknown.map(({ ref, fault }) => `${ref} ${fault.replaceAll('_', ' ')}`).join(', ');
  return [
    ...all.flatMap((note) => wrap(note, width)),
    ...(left === '' ? [] : hanging('Not weighed, for want of a bias: ', left, width)),
    ...wrap(
      'Probabilities rest on how often each kind of fault is met (common practice) and on the parts’ tolerances.',
      width,
    ),
  ];
}

function faultsText({ faults }: Suspect): string {
  return faults
    .map((fault) => `${fault.ref} ${fault.words}${fittedText(fault) === '' ? '' : ` (${fittedText(fault)})`}`)
    .join(' and ');
}

function fittedText({ value, unit, fault }: Suspicion): string {
  if (value === null) return '';
  if (unit !== null) return quantity(value, unit as Unit, 2);
  return fault === 'low_hFE' || fault === 'high_hFE' ? `hFE ${decimals(value, 0)}` : `× ${decimals(value, 2)}`;
}

function inUnit({ unit }: ReadAgainst, value: number): string {
  if (unit === 'Ω') return quantity(value, 'Ω', 3).replace(/ ?Ω$/, '');
  return decimals(value, unit === 'dB' ? 1 : Math.abs(value) >= 100 ? 0 : 2);
}

function percent(share: number): string {
  return `${decimals(100 * share, share >= 0.995 || share < 0.095 ? 1 : 0)} %`;
}
