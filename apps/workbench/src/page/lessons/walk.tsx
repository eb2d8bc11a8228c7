import type { JSX } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import type { CurveFigure, Walk } from '@curvewright/report';
import { StaticPlate } from '../curves/static-plate.tsx';
import { words } from './words.ts';

/** A value moved by hand: the curve and the numbers follow. */
export function WalkView({ walk }: { walk: Walk }): JSX.Element | null {
  const [at, move] = useState(walk.start);
  const step = walk.steps[at];
  const figure = useMemo<CurveFigure>(
    () => ({ ...walk.figure, series: [...walk.figure.series, ...(step?.series ?? [])] }),
    [walk, step],
  );
  if (step === undefined) return null;
  return (
    <section class="walk">
      <h2>{words.walk}</h2>
      <label class="mark-level">
        {words.slide(walk.label)}
        <input
          type="range"
          class="slider"
          min={0}
          max={walk.steps.length - 1}
          step={1}
          value={at}
          aria-valuetext={step.written}
          onInput={({ currentTarget }) => {
            move(currentTarget.valueAsNumber);
          }}
        />
        <output>{step.written}</output>
      </label>
      <dl class="walk-numbers" aria-label={words.figureNumbers}>
        {walk.names.map((name, n) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{step.numbers[n]}</dd>
          </div>
        ))}
      </dl>
      <figure class="lesson-figure">
        <figcaption>{figure.title}</figcaption>
        <StaticPlate figure={figure} size="full" />
      </figure>
    </section>
  );
}
