import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { CardPage } from '@curvewright/report';
import './card.css';
import { words } from './words.ts';

interface CardProps {
  readonly card: CardPage;
  /** With how many measurements it was found. */
  readonly solved: (measured: number) => void;
}

/** A fault to be found: measure, then name it. */
export function Card({ card, solved }: CardProps): JSX.Element {
  const [measured, setMeasured] = useState<readonly number[]>([]);
  const [chosen, choose] = useState<number | null>(null);
  const [said, say] = useState<string | null>(null);
  const [isFound, find] = useState(false);
  const answer = useRef<HTMLParagraphElement>(null);
  useEffect(() => {
    if (isFound) answer.current?.focus();
  }, [isFound]);

  function name(): void {
    const suspect = chosen === null ? undefined : card.suspects[chosen];
    if (suspect === undefined) return;
    if (chosen === card.answer) {
      say(`${words.found(suspect.label)} ${words.took(measured.length, card.fewest)}`);
      find(true);
      solved(measured.length);
      return;
    }
    const by = measured.find((m) => suspect.ruledOutBy.includes(m));
    const row = by === undefined ? undefined : card.measurements[by];
    say(
      by === undefined || row === undefined
        ? words.notRuledOut(suspect.label)
        : words.ruledOut(suspect.label, row.label, suspect.readings[by] ?? '', row.reading),
    );
  }

  return (
    <>
      <p>
        {words.cardIntro} {card.complaint}
      </p>
      <table class="card-measurements">
        <caption aria-live="polite">{words.measured(measured.length)}</caption>
        <thead>
          <tr>
            <th scope="col">{words.quantity}</th>
            <th scope="col" class="number">
              {words.healthy}
            </th>
            <th scope="col" class="number">
              {words.reads}
            </th>
          </tr>
        </thead>
        <tbody>
          {card.measurements.map(({ label, healthy, reading }, m) => (
            <tr key={label}>
              <th scope="row">{label}</th>
              <td class="number">{healthy}</td>
              <td class="number">
                {measured.includes(m) || isFound ? (
                  reading
                ) : (
                  <button
                    type="button"
                    class="quiet"
                    aria-label={`${words.measure}: ${label}`}
                    onClick={() => {
                      setMeasured([...measured, m]);
                    }}
                  >
                    {words.measure}
                  </button>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {!isFound && (
        <form
          class="card-name"
          onSubmit={(event) => {
            event.preventDefault();
            name();
          }}
        >
          <label>
            {words.suspect}
            <select
              value={chosen ?? ''}
              onChange={({ currentTarget }) => {
                choose(currentTarget.value === '' ? null : Number(currentTarget.value));
              }}
            >
              <option value="">{words.choose}</option>
              {card.suspects.map(({ label }, n) => (
                <option key={label} value={n}>
                  {label}
                </option>
              ))}
            </select>
          </label>
          <button type="submit">{words.name}</button>
        </form>
      )}
      <p ref={answer} role="status" tabIndex={-1} class={isFound ? 'label' : undefined}>
        {said}
      </p>
    </>
  );
}
