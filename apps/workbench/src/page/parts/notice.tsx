import type { JSX } from 'preact';
import { words } from '../words.ts';
import { useSession } from './session-context.ts';

/** What was just done or happened outside; stays until noted or until the next. */
export function Notice(): JSX.Element {
  const { notice, isConnected } = useSession();
  return (
    <>
      {!isConnected.value && (
        <p class="notice" role="alert">
          {words.offline}
        </p>
      )}
      <div class={notice.value === null ? 'notice-place' : 'notice-place notice'}>
        <span role="status">{notice.value}</span>
        {notice.value !== null && (
          <button
            type="button"
            class="quiet"
            onClick={() => {
              notice.value = null;
            }}
          >
            {words.dismiss}
          </button>
        )}
      </div>
    </>
  );
}
