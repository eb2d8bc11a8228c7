import type { JSX } from 'preact';
import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import type { SheetView } from '../../contract/compute.ts';
import { useSession } from '../parts/session-context.ts';
import { viewWorker } from '../parts/view-worker.ts';
import { Trouble } from '../sheet/trouble.tsx';
import { words as pageWords } from '../words.ts';
import { ChosenPart } from './chosen-part.tsx';
import './drawing.css';
import { drawingStore } from './drawing-store.ts';
import { DrawingWishes } from './drawing-wishes.tsx';
import { StagePlate } from './stage-plate.tsx';
import { words } from './words.ts';

/** One channel's circuit; what is chosen in it is in hand in the table, and the other way round. */
export function DrawingView({ view }: { readonly view: SheetView }): JSX.Element {
  const { subject, rowInHand } = useSession();
  const store = useMemo(() => drawingStore(viewWorker()), []);
  const chosen = useSignal<readonly string[]>([]);
  const texts = subject.subject.value;
  const wish = store.wish.value;
  const state = wish.state ?? view.states.at(-1)?.state ?? 'drawn';
  const channel = view.channels.find((name) => name === wish.channel) ?? view.channels[0] ?? '';
  useEffect(() => {
    const title = words.title(channel, pageWords.state[state]);
    if (texts !== null) void store.ask(texts, { state, channel, title });
  }, [texts, wish, state, channel]);

  // A row that is taken in hand in the table is marked here.
  const key = rowInHand.value;
  useEffect(() => {
    const row = view.rows.find((each) => each.key === key);
    if (row !== undefined) chosen.value = [...row.refs];
  }, [key]);

  function choose(position: string): void {
    const row = view.rows.find(({ refs }) => refs.includes(position));
    chosen.value = [...(row?.refs ?? view.positions.find((refs) => refs.includes(position)) ?? [position])];
    rowInHand.value = row?.key ?? null;
  }

  const drawn = store.drawn.value;
  const isOld = store.isOld.value || subject.viewIsOld.value;
  return (
    <>
      <DrawingWishes store={store} view={view} nodes={drawn?.ok === true ? drawn.nodes : []} />
      {drawn === null && <p class="pending">{words.computing}</p>}
      {drawn?.ok === false && <Trouble title={words.cannot} diagnostics={drawn.diagnostics} />}
      {drawn?.ok === true && (
        <div class={isOld ? 'is-old' : undefined}>
          <p class="facts">{words.hint}</p>
          <StagePlate svg={drawn.svg} parts={drawn.parts} chosen={chosen.value} choose={choose} />
          <ChosenPart view={view} refs={chosen.value} parts={drawn.parts} />
          <details>
            <summary>{words.inWords}</summary>
            <ul class="stage-text">
              {drawn.text.map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
          </details>
        </div>
      )}
    </>
  );
}
