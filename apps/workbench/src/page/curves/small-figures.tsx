import type { JSX } from 'preact';
import { useEffect, useId, useRef, useState } from 'preact/hooks';
import type { Figure } from '@curvewright/report';
import { words } from '../words.ts';
import { EnlargedFigure } from './enlarged-figure.tsx';
import { StaticPlate } from './static-plate.tsx';

/** A figure's place beside the main one; its title stands before its curves have come. */
export interface SmallFigure {
  readonly id: Figure['id'];
  readonly title: string;
  /** Null until it has been computed once. */
  readonly figure: Figure | null;
  /** Not that of the texts as they stand. */
  readonly isOld: boolean;
  /** 0 to 1 while it is being computed. */
  readonly progress: number | null;
}

interface SmallFiguresProps {
  readonly figures: readonly SmallFigure[];
  /** The number of the first. */
  readonly first: number;
}

/** Static plates beside each other; Enter or a click enlarges one below them, Esc takes it back. */
export function SmallFigures({ figures, first }: SmallFiguresProps): JSX.Element {
  const [chosenId, choose] = useState<Figure['id'] | null>(null);
  const place = useRef<HTMLDivElement>(null);
  const panelId = useId();
  const chosen = figures.findIndex(({ id, figure }) => id === chosenId && figure !== null);
  const enlarged = figures[chosen]?.figure ?? null;
  useEffect(() => {
    if (chosenId !== null) document.getElementById(panelId)?.scrollIntoView({ block: 'nearest' });
  }, [chosenId, panelId]);

  function close(): void {
    // The focus goes back to where the figure was chosen, before its close button is gone.
    place.current?.querySelector<HTMLButtonElement>('button[aria-expanded="true"]')?.focus();
    choose(null);
  }

  return (
    <div
      ref={place}
      class="small-figures"
      onKeyDown={(event) => {
        if (event.key !== 'Escape' || enlarged === null) return;
        event.stopPropagation();
        close();
      }}
    >
      <ul>
        {figures.map((small, n) => (
          <li key={small.id}>
            <SmallPlate
              small={small}
              caption={words.curves.caption(first + n, small.title)}
              panelId={panelId}
              isChosen={n === chosen}
              choose={() => {
                if (n === chosen) close();
                else choose(small.id);
              }}
            />
          </li>
        ))}
      </ul>
      {enlarged !== null && (
        <EnlargedFigure
          id={panelId}
          figure={enlarged}
          caption={words.curves.caption(first + chosen, enlarged.title)}
          isOld={figures[chosen]?.isOld === true}
          close={close}
        />
      )}
    </div>
  );
}

interface SmallPlateProps {
  readonly small: SmallFigure;
  readonly caption: string;
  readonly panelId: string;
  readonly isChosen: boolean;
  readonly choose: () => void;
}

function SmallPlate({ small, caption, panelId, isChosen, choose }: SmallPlateProps): JSX.Element {
  const { figure, isOld, progress } = small;
  const state = progress !== null ? words.curves.progress(progress) : isOld ? words.outOfDate : null;
  if (figure === null)
    return (
      <figure class="small-figure">
        <figcaption>{caption}</figcaption>
        <p class="old">{state ?? words.notStated}</p>
      </figure>
    );
  return (
    <figure class={isOld ? 'small-figure is-old' : 'small-figure'}>
      <figcaption>
        <button
          type="button"
          aria-expanded={isChosen}
          aria-controls={isChosen ? panelId : undefined}
          title={isChosen ? words.curves.reduce : words.curves.enlarge}
          onClick={choose}
        >
          {caption}
        </button>
        {state !== null && <span class="old">{state}</span>}
      </figcaption>
      <StaticPlate figure={figure} size="small" />
    </figure>
  );
}
