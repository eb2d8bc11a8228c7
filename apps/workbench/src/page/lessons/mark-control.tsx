import type { JSX } from 'preact';
import { useId } from 'preact/hooks';
import type { Mark } from '@curvewright/report';
import { levelText } from './mark-text.ts';
import { words } from './words.ts';

interface MarkControlProps {
  readonly mark: Mark;
  readonly at: number | null;
  readonly move: (at: number) => void;
}

/** Where the mark stands, by keyboard or pointer. */
export function MarkControl({ mark, at, move }: MarkControlProps): JSX.Element {
  const name = useId();
  if (mark.kind === 'level') {
    const { label, from, to, step, start } = mark;
    // Steps are counted from a round value, so that the keys stop at round ones.
    const lowest = Math.ceil(from / step) * step;
    return (
      <label class="mark-level">
        {label}
        <input
          type="range"
          class="slider"
          min={lowest}
          max={to}
          step={step}
          value={at ?? start}
          aria-valuetext={levelText(at ?? start, mark)}
          onInput={({ currentTarget }) => {
            move(currentTarget.valueAsNumber);
          }}
        />
        <output>{levelText(at ?? start, mark)}</output>
        <span class="hint">{words.markHint}</span>
      </label>
    );
  }
  return (
    <fieldset class="mark-choice">
      <legend>{mark.label}</legend>
      {mark.options.map((option, n) => (
        <label key={option}>
          <input
            type="radio"
            name={name}
            checked={n === at}
            onChange={() => {
              move(n);
            }}
          />
          {option}
        </label>
      ))}
    </fieldset>
  );
}
