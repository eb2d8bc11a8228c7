import type { JSX } from 'preact';
import { useMemo } from 'preact/hooks';
import { svgFigure, type Figure } from '@curvewright/report';

/** The figure without its title, in the page's inks. */
export function StaticPlate({ figure, size }: { figure: Figure; size: 'full' | 'small' }): JSX.Element {
  const svg = useMemo(() => svgFigure(figure, { size, ink: 'page', titled: false }), [figure, size]);
  // Made by the report, which escapes every foreign text; nothing else comes in here.
  return <div class="plate" dangerouslySetInnerHTML={{ __html: svg }} />;
}
