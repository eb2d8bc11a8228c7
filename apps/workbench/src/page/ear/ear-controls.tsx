import type { JSX } from 'preact';
import { db } from '@curvewright/report';
import type { Player } from './player.ts';
import { VoiceChoice } from './voice-choice.tsx';
import { words } from './words.ts';

/** What is heard, how loud, and whether at all. */
export function Controls({ player }: { readonly player: Player }): JSX.Element {
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
