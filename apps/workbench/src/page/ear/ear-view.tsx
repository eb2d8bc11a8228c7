import type { JSX } from 'preact';
import { useEffect, useMemo } from 'preact/hooks';
import { db, deviationFigure } from '@curvewright/report';
import type { SheetView } from '../../contract/compute.ts';
import { StaticPlate } from '../curves/static-plate.tsx';
import { useSession } from '../parts/session-context.ts';
import { Trouble } from '../sheet/trouble.tsx';
import './ear.css';
import { createPlayer, type Player } from './player.ts';
import { VoiceChoice } from './voice-choice.tsx';
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

function Controls({ player }: { readonly player: Player }): JSX.Element {
  const { isPlaying, isBusy, volume, loaded, voice } = player;
  const heard = player.states.value?.find(({ state }) => state === voice.value);
  return (
    <section class="ear-controls">
      <VoiceChoice player={player} />
      {heard !== undefined && <p class="facts">{words.matched(db(heard.matchDb))}</p>}
      <Noise player={player} />
      <label class="ear-volume">
        {words.volume}
        <input
          type="range"
          class="slider"
          min={-60}
          max={0}
          step={1}
          value={volume.value}
          aria-valuetext={`${volume.value} dB`.replace('-', '−')}
          onInput={({ currentTarget }) => {
            volume.value = currentTarget.valueAsNumber;
            player.apply();
          }}
        />
        <output>{`${volume.value} dB`.replace('-', '−')}</output>
      </label>
      <div class="acts">
        <button
          type="button"
          aria-pressed={isPlaying.value}
          disabled={isBusy.value}
          onClick={() => {
            if (isPlaying.value) player.stop();
            else void player.play();
          }}
        >
          {isPlaying.value ? words.stop : words.play}
        </button>
        <button
          type="button"
          class="quiet"
          disabled={isBusy.value}
          onClick={() => {
            const base = loaded.value?.name.replace(/\.[^.]*$/, '') ?? '';
            void player.save().then((blob) => {
              if (blob !== null) download(blob, words.savedAs(base, voice.value));
            });
          }}
        >
          {words.save}
        </button>
      </div>
    </section>
  );
}

function Noise({ player }: { readonly player: Player }): JSX.Element {
  const { hiss, hum, states, voice } = player;
  const channels = states.value?.find(({ state }) => state === voice.value)?.channels ?? [];
  const worst = (values: readonly number[]): string => db(Math.max(...values));
  const hums = channels.flatMap(({ humDb }) => humDb ?? []);
  return (
    <fieldset class="ear-noise">
      <legend>{words.noise}</legend>
      {(['hiss', 'hum'] as const).map((kind) => {
        const on = kind === 'hiss' ? hiss : hum;
        return (
          <label key={kind}>
            <input
              type="checkbox"
              checked={on.value}
              onChange={({ currentTarget }) => {
                on.value = currentTarget.checked;
                player.apply();
              }}
            />
            {words[kind]}
          </label>
        );
      })}
      <p class="facts">
        {channels.length === 0
          ? `${words.noiseOf} `
          : `${words.noiseIs(worst(channels.map(({ hissDb }) => hissDb)), hums.length === 0 ? null : worst(hums))} `}
        {words.noiseHelp}
      </p>
    </fieldset>
  );
}

function download(blob: Blob, name: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  setTimeout(() => {
    URL.revokeObjectURL(link.href);
  }, 60_000);
}
