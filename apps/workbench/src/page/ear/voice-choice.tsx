import type { JSX } from 'preact';
import { useId } from 'preact/hooks';
import type { Voice } from './ear-graph.ts';
import type { Player } from './player.ts';
import { words } from './words.ts';

/** What is heard; changed while it plays without a gap. */
export function VoiceChoice({ player }: { readonly player: Player }): JSX.Element {
  const name = useId();
  const voices: readonly Voice[] = ['exact', ...(player.states.value?.map(({ state }) => state) ?? [])];
  return (
    <fieldset class="ear-voices">
      <legend>{words.hear}</legend>
      {voices.map((voice) => (
        <label key={voice}>
          <input
            type="radio"
            name={name}
            checked={player.voice.value === voice}
            onChange={() => {
              player.voice.value = voice;
              player.apply();
            }}
          />
          {voice === 'exact' ? words.exact : words.state[voice]}
        </label>
      ))}
      <p class="facts">{words.keys}</p>
    </fieldset>
  );
}
