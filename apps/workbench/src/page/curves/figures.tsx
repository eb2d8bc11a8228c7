import type { JSX } from 'preact';
import { useMemo } from 'preact/hooks';
import { MainFigure, type MainFigureProps } from './main-figure.tsx';
import { SmallFigures, type SmallFigure } from './small-figures.tsx';

interface FiguresProps extends MainFigureProps {
  readonly small: readonly SmallFigure[];
}

/** Fig. 1 and the small ones below it. */
export function Figures({ small, ...main }: FiguresProps): JSX.Element {
  // A move of the hand redraws the main figure alone.
  const others = useMemo(() => <SmallFigures figures={small} first={2} />, [small]);
  return (
    <div class="figures">
      <MainFigure {...main} />
      {others}
    </div>
  );
}
