import type { CheckAnswer, SpreadAnswer } from '@curvewright/verify';
import { deviationFigure } from '../figure/deviation-figure.ts';
import { stateCurves } from '../figure/state-curves.ts';
import { svgFigure } from '../figure/svg-figure.ts';
import { el, raw, type Html } from './html.ts';
import type { ProofFacts } from './proof-facts.ts';
import {
  figureSection,
  findingSection,
  foundSection,
  openSection,
  originSection,
  partSection,
  scopeSection,
} from './proof-sections.ts';
import { masthead, sheetDocument } from './sheet-document.ts';
import { levelMark } from './sheet-parts.ts';
import { voltageSection } from './voltage-section.ts';

/** The customer's sheet as one HTML file. `code` is the check code of the facts. */
export function proofSheet(
  facts: ProofFacts,
  { answer, spread }: { answer: CheckAnswer; spread: SpreadAnswer | null },
  code: string,
): string {
  const { title, shop, verdict, about } = facts;
  const kind = 'Proof of the work on a phono equaliser board';
  const unit = about
    .filter(([name]) => name === 'unit' || name === 'serial' || name === 'date')
    .map(([, text]) => text);
  return sheetDocument(
    {
      kind: 'proof',
      title: `${title}: proof`,
      running: [shop?.name ?? 'Curvewright', [title, ...unit].join(' · ')],
      paper: shop?.paper,
    },
    [
      masthead(facts, kind, shop),
      el('p', { class: 'verdict' }, 'Rebuilt: ', levelMark(verdict.level, 'verdict'), ` ${verdict.words}`),
      beside(plate(answer, spread), foundSection(facts)),
      figureSection(facts),
      findingSection(facts),
      openSection(facts),
      partSection(facts),
      voltageSection(facts),
      scopeSection(facts),
      originSection(facts, code),
    ],
  );
}

function beside(figure: Html, words: Html | null): Html {
  return words === null ? figure : el('div', { class: 'beside' }, figure, words);
}

/** The deviation of every state with its limits; the band is that of healthy boards. */
function plate(answer: CheckAnswer, spread: SpreadAnswer | null): Html {
  const figure = deviationFigure(answer.channels, stateCurves(answer), answer.limits, spread, answer.states.measured);
  return el(
    'figure',
    { class: 'plate' },
    raw(svgFigure(figure, { size: 'full', ink: 'print', titled: true })),
    raw('\n'),
  );
}
