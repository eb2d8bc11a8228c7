import type { JSX } from 'preact';
import type { SheetView } from '../../contract/compute.ts';
import { words } from '../words.ts';

/** Above this a supply asks for more than the usual care, V. Common practice, no source. */
const highVolts = 60;

/** What must not be forgotten: the job's reminders, and what the board can do to a hand. */
export function Care({ view }: { view: SheetView }): JSX.Element {
  const reminders = view.head?.reminders ?? [];
  const isHigh = view.states.some(({ channels }) =>
    channels.some(({ nodes }) => nodes.some(({ volts }) => Math.abs(volts) > highVolts)),
  );
  return (
    <div class="care">
      {reminders.length > 0 && (
        <section aria-labelledby="reminders-title">
          <h2 id="reminders-title">{words.reminders}</h2>
          <ul class="reminders">
            {reminders.map((reminder, n) => (
              <li key={n}>{reminder}</li>
            ))}
          </ul>
        </section>
      )}
      <section aria-labelledby="cautions-title">
        <h2 id="cautions-title">{words.cautions}</h2>
        <p>{words.caution.always}</p>
        {isHigh && <p class="caution">{words.caution.high(highVolts)}</p>}
        <p>{words.caution.scope}</p>
      </section>
    </div>
  );
}
