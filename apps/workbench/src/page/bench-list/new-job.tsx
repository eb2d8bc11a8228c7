import type { JSX } from 'preact';
import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { useSession } from '../parts/session-context.ts';
import { words } from '../words.ts';

/** Opens the form below; `title` is the board's. */
export function BeginJob({ board, title }: { board: string; title: string }): JSX.Element {
  const isOpen = useSignal(false);
  return (
    <>
      <button
        type="button"
        class="quiet"
        aria-expanded={isOpen.value}
        aria-label={words.newJobFor(title)}
        onClick={() => {
          isOpen.value = !isOpen.value;
        }}
      >
        {words.newJob}
      </button>
      {isOpen.value && (
        <NewJob
          board={board}
          close={() => {
            isOpen.value = false;
          }}
        />
      )}
    </>
  );
}

/** Begins a job for a board: only its title is asked, the sheet asks for the rest. */
function NewJob({ board, close }: { board: string; close: () => void }): JSX.Element {
  const { newJob } = useSession();
  const title = useSignal('');
  const trouble = useSignal<string | null>(null);
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => {
    field.current?.focus();
  }, []);

  async function begin(): Promise<void> {
    const today = new Date();
    const date = [today.getFullYear(), today.getMonth() + 1, today.getDate()].map((n) => String(n).padStart(2, '0'));
    trouble.value = await newJob(board, title.value.trim(), date.join('-'));
  }

  return (
    <form
      class="new-job"
      onSubmit={(event) => {
        event.preventDefault();
        if (title.value.trim() !== '') void begin();
      }}
      onKeyDown={({ key }) => {
        if (key === 'Escape') close();
      }}
    >
      <label>
        {words.newJobTitle}
        <input
          ref={field}
          required
          maxLength={120}
          value={title.value}
          onInput={({ currentTarget }) => {
            title.value = currentTarget.value;
          }}
        />
      </label>
      <button type="submit">{words.create}</button>
      <button type="button" class="quiet" onClick={close}>
        {words.cancel}
      </button>
      {trouble.value !== null && <p role="alert">{trouble.value}</p>}
    </form>
  );
}
