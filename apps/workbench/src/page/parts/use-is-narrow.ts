import { useEffect, useState } from 'preact/hooks';

const narrow = '(max-width: 40rem)';

/** Whether the page has room for one column only; follows the window. */
export function useIsNarrow(): boolean {
  const [isNarrow, setNarrow] = useState(() => window.matchMedia(narrow).matches);
  useEffect(() => {
    const media = window.matchMedia(narrow);
    const follow = (): void => {
      setNarrow(media.matches);
    };
    media.addEventListener('change', follow);
    return () => {
      media.removeEventListener('change', follow);
    };
  }, []);
  return isNarrow;
}
