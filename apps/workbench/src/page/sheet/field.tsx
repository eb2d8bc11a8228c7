import type { JSX } from 'preact';
import { useSignal } from '@preact/signals';
import { useEffect, useId } from 'preact/hooks';
import type { SheetField, SheetRow } from '../../contract/compute.ts';
import { words } from '../words.ts';
import { ladderStep } from './ladder.ts';
import { Slider } from './slider.tsx';
import { StepButton } from './step-button.tsx';
import { useFieldEdit } from './use-field-edit.ts';

/** One value of a row: typed, stepped through the preferred values, slid, or chosen. */
export function Field({
  row,
  field,
  group,
}: {
  row: SheetRow;
  field: SheetField;
  group: keyof typeof words.group;
}): JSX.Element {
  const id = useId();
  /** What is being written; null while it is what the file says. */
  const draft = useSignal<string | null>(null);
  const edit = useFieldEdit(row, field);
  const shown = draft.value ?? field.written ?? '';
  const name = words.field[field.path];
  const label = words.fieldOf(words.group[group], name, row.refs.join(' '));
  const troubleId = `${id}-trouble`;
  useEffect(() => {
    draft.value = null;
  }, [draft, field.written]);

  async function commit(text: string): Promise<void> {
    draft.value = text;
    if (await edit.commit(text)) draft.value = text === (field.written ?? '') ? null : draft.value;
  }

  const down = ladderStep(field, shown, -1);
  const up = ladderStep(field, shown, 1);
  const common = {
    id,
    'aria-label': label,
    'aria-invalid': edit.trouble.value !== null,
    'aria-describedby': edit.trouble.value === null ? undefined : troubleId,
  };
  return (
    <div class={`field field-${field.path.replaceAll('.', '-')}`}>
      <label for={id}>{name}</label>
      {field.choices === null ? (
        <span class="stepper">
          <StepButton to={down} name={words.stepDown} sign="↓" step={commit} />
          <input
            {...common}
            type="text"
            autocomplete="off"
            spellcheck={false}
            title={down === null && up === null ? undefined : words.stepHint}
            value={shown}
            data-draft={draft.value !== null}
            onInput={({ currentTarget }) => {
              draft.value = currentTarget.value;
            }}
            onBlur={() => {
              if (draft.value !== null) void commit(draft.value);
            }}
            onKeyDown={(event) => {
              const step = event.key === 'ArrowUp' ? up : event.key === 'ArrowDown' ? down : null;
              if (step !== null) void commit(step);
              else if (event.key === 'Enter') void commit(shown);
              else if (event.key !== 'Escape' || draft.value === null) return;
              else {
                draft.value = null;
                edit.trouble.value = null;
              }
              event.preventDefault();
            }}
          />
          <StepButton to={up} name={words.stepUp} sign="↑" step={commit} />
        </span>
      ) : (
        <select
          {...common}
          value={shown}
          onChange={({ currentTarget }) => {
            void commit(currentTarget.value);
          }}
        >
          {field.written === null && <option value="">{words.notStated}</option>}
          {field.choices.map((choice) => (
            <option key={choice} value={choice}>
              {choice.replaceAll('_', ' ')}
            </option>
          ))}
        </select>
      )}
      {field.path === 'fit.value' && field.ladder !== null && (
        <Slider
          row={row}
          field={field}
          ladder={field.ladder}
          show={(text) => {
            draft.value = text;
          }}
          commit={commit}
        />
      )}
      {edit.trouble.value !== null && (
        <p id={troubleId} class="trouble" role="alert">
          {edit.trouble.value}
        </p>
      )}
    </div>
  );
}
