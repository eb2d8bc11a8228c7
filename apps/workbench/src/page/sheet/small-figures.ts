import type { State } from '@curvewright/board';
import {
  balanceFigure,
  cartridgeFigure,
  hissFigure,
  inputFigure,
  overloadFigure,
  responseFigure,
  switchOnFigure,
  type Figure,
  type OfState,
} from '@curvewright/report';
import type { SheetView, SlowAnswers } from '../../contract/compute.ts';
import type { SmallFigure } from '../curves/small-figures.tsx';
import type { FigureKind, SlowKnown, SlowStore } from '../store/slow-store.ts';
import { words } from '../words.ts';

type SmallId = keyof typeof words.figure;

export interface AsOf {
  /** That of the texts as they stand. */
  readonly revision: number;
  /** The view is of older texts, or the hand is moving. */
  readonly viewIsOld: boolean;
  readonly inHand: SlowStore['inHand']['value'];
}

/** The figures beside the main one: those of the curves at once, the others as their answers come. */
export function smallFigures(view: SheetView, known: SlowKnown, asOf: AsOf): readonly SmallFigure[] {
  const { channels, curves, limits } = view;
  const states = view.states.map(({ state }) => state);
  const quick = (id: SmallId, figure: Figure | null): SmallFigure => ({
    id,
    title: words.figure[id],
    figure,
    isOld: asOf.viewIsOld,
    progress: null,
  });
  function slow<K extends FigureKind>(
    id: SmallId,
    kind: K,
    draw: (answers: readonly OfState<SlowAnswers[K]>[]) => Figure | null,
  ): SmallFigure {
    const answers = answersOf(known, kind, states);
    const isOld = asOf.viewIsOld || answers.some(({ revision }) => revision !== asOf.revision);
    const progress = asOf.inHand?.kind === kind ? asOf.inHand.share : null;
    return { id, title: words.figure[id], figure: answers.length === 0 ? null : draw(answers), isOld, progress };
  }
  const balance = balanceFigure(channels, curves, limits, null);
  const loading = answersOf(known, 'loading', states);
  return [
    quick('response', responseFigure(channels, curves)),
    ...(balance === null ? [] : [quick('balance', balance)]),
    slow('hiss', 'noise', (answers) => {
      const last = answers.at(-1);
      return last === undefined ? null : hissFigure(last, view.positions);
    }),
    slow('input', 'loading', inputFigure),
    ...(loading.length > 0 && cartridgeFigure(loading) === null ? [] : [slow('cartridge', 'loading', cartridgeFigure)]),
    slow('switch-on', 'settle', switchOnFigure),
    slow('overload', 'headroom', (answers) => overloadFigure(answers, limits)),
  ];
}

function answersOf<K extends FigureKind>(
  known: SlowKnown,
  kind: K,
  states: readonly State[],
): readonly (OfState<SlowAnswers[K]> & { readonly revision: number })[] {
  const answers = known[kind];
  return states.flatMap((state) => {
    const entry = answers.get(state);
    return entry === undefined ? [] : [{ state, ...entry }];
  });
}
