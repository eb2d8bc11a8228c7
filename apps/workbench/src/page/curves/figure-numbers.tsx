import type { JSX } from 'preact';
import { seriesName, type Axis, type BarFigure, type CurveFigure, type Figure } from '@curvewright/report';
import { readAt } from './read-at.ts';
import { numberText } from './value-text.ts';
import { words } from '../words.ts';

/** What the figure shows as a table, for whoever does not see it or wants it in figures. */
export function FigureNumbers({ figure }: { figure: Figure }): JSX.Element {
  return (
    <details class="figure-numbers">
      <summary>{words.curves.numbers}</summary>
      <div class="wide" tabIndex={0} role="region" aria-label={words.curves.numbersOf(figure.title)}>
        {figure.kind === 'curves' ? <CurveNumbers figure={figure} /> : <BarNumbers figure={figure} />}
      </div>
    </details>
  );
}

function CurveNumbers({ figure: { title, x, y, series } }: { figure: CurveFigure }): JSX.Element {
  return (
    <table>
      <caption class="for-the-ear">{title}</caption>
      <thead>
        <tr>
          <th scope="col">{x.unit}</th>
          {series.map((each) => (
            <th key={seriesName(each)} scope="col">
              {words.curves.inUnit(seriesName(each), y.unit)}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {x.ticks.map(({ at, text }) => (
          <tr key={at}>
            <th scope="row">{text}</th>
            {series.map((each) => (
              <td key={seriesName(each)}>{written(readAt(x, each, at), y)}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function BarNumbers({ figure: { title, names, rows } }: { figure: BarFigure }): JSX.Element {
  return (
    <table>
      <caption class="for-the-ear">{title}</caption>
      <thead>
        <tr>
          <th scope="col">{words.curves.part}</th>
          {names.map((name) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ label, texts }) => (
          <tr key={label}>
            <th scope="row">{label}</th>
            {texts.map((text, n) => (
              <td key={n}>{text}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function written(value: number | null, axis: Axis): string {
  return value === null ? words.notStated : numberText(value, axis);
}
