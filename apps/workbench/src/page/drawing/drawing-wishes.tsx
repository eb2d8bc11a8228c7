import type { JSX } from 'preact';
import { shareFigures } from '@curvewright/verify';
import type { SheetView } from '../../contract/compute.ts';
import { words as pageWords } from '../words.ts';
import type { DrawingStore, Wish } from './drawing-store.ts';
import { words } from './words.ts';

interface WishesProps {
  readonly store: DrawingStore;
  readonly view: SheetView;
  /** Bare names of the channel's nodes. */
  readonly nodes: readonly string[];
}

/** What is drawn of the circuit, and what is written in. */
export function DrawingWishes({ store: { wish }, view, nodes }: WishesProps): JSX.Element {
  const { state, channel, volts, currents, shade, only, hz } = wish.value;
  const set = (changed: Partial<Wish>): void => {
    wish.value = { ...wish.value, ...changed };
  };
  const states = view.states.map((each) => each.state);
  return (
    <div class="stage-wishes">
      {view.channels.length > 1 && (
        <Choice
          name={words.channel}
          value={channel ?? view.channels[0] ?? ''}
          options={view.channels.map((name) => [name, name])}
          choose={(name) => {
            set({ channel: name });
          }}
        />
      )}
      {states.length > 1 && (
        <Choice
          name={words.state}
          value={state ?? states.at(-1) ?? ''}
          options={states.map((each) => [each, pageWords.state[each]])}
          choose={(name) => {
            set({ state: states.find((each) => each === name) ?? null });
          }}
        />
      )}
      <Choice
        name={words.circuit}
        value={only ?? ''}
        options={[
          ['', words.whole],
          ['dc', words.dc],
          ['ac', words.ac],
        ]}
        choose={(name) => {
          set({ only: name === 'dc' || name === 'ac' ? name : null });
        }}
      />
      {only === 'ac' && (
        <label>
          {words.hz}
          <input
            type="number"
            min={1}
            max={1_000_000}
            step="any"
            value={hz}
            onChange={({ currentTarget: { valueAsNumber } }) => {
              if (valueAsNumber > 0) set({ hz: valueAsNumber });
            }}
          />
        </label>
      )}
      <Choice
        name={words.shade}
        value={shade ?? ''}
        options={[
          ['', words.noShade],
          ...shareFigures.map((each): Option => [each, words.figures[each]]),
          ...nodes.map((node): Option => [node, words.voltageOf(node)]),
        ]}
        choose={(name) => {
          set({ shade: name === '' ? null : name });
        }}
      />
      <fieldset>
        <legend>{words.shows}</legend>
        {(['volts', 'currents'] as const).map((what) => (
          <label key={what}>
            <input
              type="checkbox"
              checked={what === 'volts' ? volts : currents}
              onChange={({ currentTarget: { checked } }) => {
                set({ [what]: checked });
              }}
            />
            {words[what]}
          </label>
        ))}
      </fieldset>
    </div>
  );
}

type Option = readonly [value: string, text: string];

interface ChoiceProps {
  readonly name: string;
  readonly value: string;
  readonly options: readonly Option[];
  readonly choose: (value: string) => void;
}

function Choice({ name, value, options, choose }: ChoiceProps): JSX.Element {
  return (
    <label>
      {name}
      <select
        value={value}
        onChange={({ currentTarget }) => {
          choose(currentTarget.value);
        }}
      >
        {options.map(([each, text]) => (
          <option key={each} value={each}>
            {text}
          </option>
        ))}
      </select>
    </label>
  );
}
