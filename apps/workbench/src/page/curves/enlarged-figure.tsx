import type { JSX } from 'preact';
import type { Figure } from '@curvewright/report';
import { words } from '../words.ts';
import { FigureNumbers } from './figure-numbers.tsx';
import { LiveFigure } from './live-figure.tsx';
import { StaticPlate } from './static-plate.tsx';

interface EnlargedFigureProps {
  readonly id: string;
  readonly figure: Figure;
  readonly caption: string;
  readonly isOld: boolean;
  readonly close: () => void;
}

/** A small figure over the whole width: curves live, bars, whose values are written on them, as they are. */
export function EnlargedFigure({ id, figure, caption, isOld, close }: EnlargedFigureProps): JSX.Element {
  return (
    <figure id={id} class={isOld ? 'enlarged-figure is-old' : 'enlarged-figure'}>
      <figcaption>
        {caption}
        {isOld && <span class="old">{words.outOfDate}</span>}
        <button type="button" class="quiet" onClick={close}>
          {words.curves.reduce}
        </button>
      </figcaption>
      {figure.kind === 'curves' ? (
        <LiveFigure key={figure.id} figure={figure} levels={null} />
      ) : (
        <StaticPlate figure={figure} size="full" />
      )}
      <FigureNumbers figure={figure} />
    </figure>
  );
}
