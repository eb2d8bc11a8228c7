import type { JSX } from 'preact';
import { useRef } from 'preact/hooks';
import type { Figure, LessonFigure, Mark } from '@curvewright/report';
import { FigureNumbers } from '../curves/figure-numbers.tsx';
import { StaticPlate } from '../curves/static-plate.tsx';
import { levelText } from './mark-text.ts';
import { words } from './words.ts';

interface MarkedFigureProps {
  readonly figure: LessonFigure;
  readonly mark: Mark;
  /** Null: nothing is marked yet. */
  readonly at: number | null;
  /** Moves the mark; null once it stands. */
  readonly move: ((at: number) => void) | null;
}

/** A figure with the mark that was put on it. */
export function MarkedFigure({ figure, mark, at, move }: MarkedFigureProps): JSX.Element {
  const place = useRef<HTMLDivElement>(null);

  /** The slider beside it does the same for the keyboard. */
  function onPointer(event: MouseEvent): void {
    const svg = place.current?.querySelector('svg');
    if (move === null || !svg) return;
    if (mark.kind === 'level') {
      const level = levelUnder(svg, figure, event.clientY);
      if (level !== null) move(rounded(level, mark));
      return;
    }
    const option = optionNear(svg, figure, mark.options, event);
    if (option !== null) move(option);
  }

  return (
    <figure class="lesson-figure">
      <figcaption>{figure.title}</figcaption>
      <div ref={place} class={move === null ? undefined : 'is-markable'} onClick={onPointer}>
        {figure.kind === 'picture' ? (
          // Made by the report, which escapes every foreign text.
          <div class="plate" dangerouslySetInnerHTML={{ __html: figure.svg }} />
        ) : (
          <StaticPlate figure={withMark(figure, mark, at)} size="full" />
        )}
      </div>
      {figure.kind === 'curves' && figure.series.length > 0 && <FigureNumbers figure={figure} />}
    </figure>
  );
}

function withMark(figure: Figure, mark: Mark, at: number | null): Figure {
  if (at === null) return figure;
  if (mark.kind === 'level' && figure.kind === 'curves') {
    const text = `${words.yourMark} ${levelText(at, mark)}`;
    return { ...figure, notes: [...figure.notes, { look: 'measured', x: mark.x, y: at, text }] };
  }
  if (mark.kind === 'choice' && figure.kind === 'bars') {
    const chosen = mark.options[at];
    const rows = figure.rows.map((row) =>
      row.label === chosen ? { ...row, texts: row.texts.map((text) => `${text}  ← ${words.yourMark}`) } : row,
    );
    return { ...figure, rows };
  }
  return figure;
}

/** y of the figure under a height of its picture; null beside the plot. */
function levelUnder(svg: SVGSVGElement, figure: LessonFigure, clientY: number): number | null {
  const frame = svg.getBoundingClientRect();
  const down = (clientY - frame.top) * (svg.viewBox.baseVal.height / frame.height);
  const plot = svg.querySelector('svg');
  if (plot === null || figure.kind !== 'curves') return null;
  const share = (down - plot.y.baseVal.value) / plot.height.baseVal.value;
  if (share < 0 || share > 1) return null;
  return figure.y.to + share * (figure.y.from - figure.y.to);
}

/** The option whose name is drawn nearest: beside its bar, or over its drawing. */
function optionNear(
  svg: SVGSVGElement,
  figure: LessonFigure,
  options: readonly string[],
  at: MouseEvent,
): number | null {
  const distances = options.map((option) => {
    const drawn = [...svg.querySelectorAll('text')].find(
      ({ textContent }) => textContent === option || option.startsWith(`${textContent}:`),
    );
    if (drawn === undefined) return Infinity;
    const { left, right, top, bottom } = drawn.getBoundingClientRect();
    return figure.kind === 'bars'
      ? Math.abs(at.clientY - (top + bottom) / 2)
      : Math.abs(at.clientX - (left + right) / 2);
  });
  const nearest = Math.min(...distances);
  return nearest < furthest ? distances.indexOf(nearest) : null;
}

/** CSS pixels from a name that still mean it. */
const furthest = 90;

function rounded(value: number, { step, from, to }: Extract<Mark, { kind: 'level' }>): number {
  return Math.min(to, Math.max(from, Number((Math.round(value / step) * step).toFixed(6))));
}
