import type { JSX } from 'preact';
import { useEffect, useMemo } from 'preact/hooks';
import { deviationFigure } from '@curvewright/report';
import type { SheetView } from '../../contract/compute.ts';
import { StaticPlate } from '../curves/static-plate.tsx';
import { useSession } from '../parts/session-context.ts';
import { Trouble } from '../sheet/trouble.tsx';
import { Controls } from './ear-controls.tsx';
import './ear.css';
import { createPlayer, type Player } from './player.ts';
import { words } from './words.ts';

/** A file of the person's own through the board, state by state. */
export function EarView({ path }: { readonly path: string }): JSX.Element {
  const session = useSession();
  const player = useMemo(() => createPlayer(), [path]);
  useEffect(
    () => () => {
      player.close();
    },
    [player],
  );
  const { opened, missing, view } = session.subject;
  return (
    <main id="main" class="ear" tabIndex={-1}>
      <h1>{words.title}</h1>
      <p>{words.intro}</p>
      {missing.value !== null && <p role="alert">{missing.value}</p>}
      {opened.value?.ok === false && <Trouble title={words.cannot} diagnostics={opened.value.diagnostics} />}
      <SoundFile player={player} />
      {view.value !== null && <Sound player={player} view={view.value} />}
    </main>
  );
}

function SoundFile({ player }: { readonly player: Player }): JSX.Element {
  const sound = player.loaded.value;
  return (
    <section class="ear-file">
      <label>
        {words.file}
        <input
          type="file"
          accept="audio/*,.wav,.flac,.mp3,.ogg,.m4a"
          onChange={({ currentTarget }) => {
            const [file] = currentTarget.files ?? [];
            if (file !== undefined) void player.load(file);
          }}
        />
      </label>
      <p class="facts">
        {sound === null
          ? words.stays
          : words.ready(
              sound.name,
              `${sound.buffer.duration.toFixed(1)} s`,
              `${(sound.buffer.sampleRate / 1000).toFixed(1)} kHz`,
            )}
      </p>
      {player.trouble.value !== null && <p role="alert">{player.trouble.value}</p>}
    </section>
  );
}

function Sound({ player, view }: { readonly player: Player; readonly view: SheetView }): JSX.Element {
  const { subject } = useSession().subject;
  const texts = subject.value;
  const sound = player.loaded.value;
  useEffect(() => {
    // Nothing is computed for somebody who has not chosen a file.
    if (texts !== null && sound !== null) void player.compute(texts);
  }, [player, texts, sound]);
  const figure = useMemo(() => deviationFigure(view.channels, view.curves, view.limits, null), [view]);
  const states = player.states.value;
  return (
    <>
      {sound !== null && (states === null || player.isBusy.value) && <p class="pending">{words.computing}</p>}
      {sound !== null && states !== null && <Controls player={player} />}
      <figure class="lesson-figure">
        <figcaption>{words.figure}</figcaption>
        <StaticPlate figure={figure} size="full" />
      </figure>
    </>
  );
}
