import type { JSX } from 'preact';
import { useMemo } from 'preact/hooks';
import { deviationFigure } from '@curvewright/report';
import type { SheetView } from '../../contract/compute.ts';
import { Figures } from '../curves/figures.tsx';
import { useSession } from '../parts/session-context.ts';
import { words } from '../words.ts';
import { smallFigures } from './small-figures.ts';

/** Fig. 1 and the small figures, from what is known so far. */
export function Plates({ view }: { view: SheetView }): JSX.Element {
  const { subject, hand, slow } = useSession();
  const known = slow.known.value;
  const inHand = slow.inHand.value;
  const revision = subject.revision.value;
  const viewIsOld = subject.viewIsOld.value;
  const isMoving = hand.isMoving.value;
  const last = view.states.at(-1)?.state;
  const spread = last === undefined ? undefined : known.spread.get(last);
  // A band of other texts would be taken for one of these.
  const band = spread?.revision === revision ? spread.answer : null;
  const main = useMemo(() => deviationFigure(view.channels, view.curves, view.limits, band), [view, band]);
  const small = useMemo(
    () => smallFigures(view, known, { revision, viewIsOld: viewIsOld || isMoving, inHand }),
    [view, known, revision, viewIsOld, isMoving, inHand],
  );
  return (
    <section class="plates-figures" aria-label={words.figures}>
      <Figures figure={main} levels={hand.move.value?.live?.deviationDb ?? null} isOld={viewIsOld} small={small} />
    </section>
  );
}
