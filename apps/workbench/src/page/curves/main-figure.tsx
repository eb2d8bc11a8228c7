import type { JSX } from 'preact';
import { useMemo } from 'preact/hooks';
import type { CurveFigure } from '@curvewright/report';
import { words } from '../words.ts';
import { FigureNumbers } from './figure-numbers.tsx';
import { LiveFigure } from './live-figure.tsx';

export interface MainFigureProps {
  readonly figure: CurveFigure;
  /** What the lines of the last state are under the hand, by channel over the figure's x; null at rest. */
  readonly levels: readonly ArrayLike<number>[] | null;
  /** What is shown is not that of the texts as they stand. */
  readonly isOld: boolean;
}

/** Fig. 1, always live. */
export function MainFigure({ figure, levels, isOld }: MainFigureProps): JSX.Element {
  const numbers = useMemo(() => <FigureNumbers figure={figure} />, [figure]);
  return (
    <figure class={isOld ? 'main-figure is-old' : 'main-figure'}>
      <figcaption>
        {words.curves.caption(1, figure.title)}
        {isOld && <span class="old">{words.outOfDate}</span>}
      </figcaption>
      <LiveFigure figure={figure} levels={levels} />
      {numbers}
    </figure>
  );
}
