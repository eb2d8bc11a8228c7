import type { JSX } from 'preact';
import { useSignal } from '@preact/signals';
import type { SheetView } from '../../contract/compute.ts';
import { Later } from '../parts/later.tsx';
import { words } from '../words.ts';

const loadDrawing = async () => (await import('../drawing/drawing-view.tsx')).DrawingView;

/** The drawing of the circuit, fetched and computed when it is asked for. */
export function StageSection({ view }: { view: SheetView }): JSX.Element {
  const isOpen = useSignal(false);
  return (
    <section class={isOpen.value ? 'stage is-open' : 'stage'} aria-labelledby="stage-title">
      <h2 id="stage-title">{words.stage}</h2>
      <button
        type="button"
        class="quiet"
        aria-expanded={isOpen.value}
        onClick={() => {
          isOpen.value = !isOpen.value;
        }}
      >
        {isOpen.value ? words.putAway : words.showStage}
      </button>
      {isOpen.value && <Later load={loadDrawing} view={view} />}
    </section>
  );
}
