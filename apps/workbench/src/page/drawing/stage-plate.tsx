import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { DrawnPart } from '../../contract/views.ts';
import { directionOf, nearestPart } from './nearest-part.ts';
import { words } from './words.ts';

interface StagePlateProps {
  readonly svg: string;
  readonly parts: readonly DrawnPart[];
  /** Designators of what is in hand. */
  readonly chosen: readonly string[];
  readonly choose: (position: string) => void;
}

/** The drawing, in which every part is a button; one of them stands in the order of tabs, arrow keys go on from there. */
export function StagePlate({ svg, parts, chosen, choose }: StagePlateProps): JSX.Element {
  const place = useRef<HTMLDivElement>(null);
  const focused = useRef<string | null>(null);
  const isChosen = (ref: string): boolean => chosen.includes(parts.find((part) => part.ref === ref)?.position ?? ref);

  useEffect(() => {
    const groups = groupsIn(place.current);
    // A picture's parts would be hidden from who hears the page; these are to be chosen.
    place.current?.querySelector('svg')?.setAttribute('role', 'group');
    const inHand = groups.find(({ dataset }) => isChosen(dataset.ref ?? ''));
    const stop = groups.find(({ dataset }) => dataset.ref === focused.current) ?? inHand ?? groups[0];
    for (const group of groups) {
      const chosenNow = isChosen(group.dataset.ref ?? '');
      group.setAttribute('role', 'button');
      group.setAttribute('tabindex', group === stop ? '0' : '-1');
      group.setAttribute('aria-pressed', String(chosenNow));
      group.classList.toggle('is-chosen', chosenNow);
    }
  }, [svg, parts, chosen]);

  function focus(ref: string): void {
    focused.current = ref;
    for (const group of groupsIn(place.current)) {
      const isHere = group.dataset.ref === ref;
      group.setAttribute('tabindex', isHere ? '0' : '-1');
      if (isHere) group.focus();
    }
  }

  function take(ref: string): void {
    focus(ref);
    choose(parts.find((part) => part.ref === ref)?.position ?? ref);
  }

  return (
    <div
      ref={place}
      class="stage-plate"
      role="region"
      aria-label={words.scroll}
      onClick={({ target }) => {
        const ref = refAt(target);
        if (ref !== null) take(ref);
      }}
      onKeyDown={(event) => {
        const ref = refAt(event.target);
        if (ref === null || event.ctrlKey || event.metaKey || event.altKey) return;
        const direction = directionOf(event.key);
        if (direction === null && event.key !== 'Enter' && event.key !== ' ') return;
        event.preventDefault();
        if (direction === null) take(ref);
        else focus(nearestPart(parts, ref, direction) ?? ref);
      }}
      // Made by the report, which escapes every foreign text; nothing else comes in here.
      dangerouslySetInnerHTML={{ __html: svg }}
    />
  );
}

function groupsIn(place: HTMLElement | null): readonly SVGGElement[] {
  return [...(place?.querySelectorAll<SVGGElement>('g[data-ref]') ?? [])];
}

function refAt(target: EventTarget | null): string | null {
  const group = target instanceof Element ? target.closest<SVGGElement>('g[data-ref]') : null;
  return group?.dataset.ref ?? null;
}
