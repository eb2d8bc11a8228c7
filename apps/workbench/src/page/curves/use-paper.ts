import { useEffect, useState } from 'preact/hooks';

const dark = '(prefers-color-scheme: dark)';

/** Light or dark paper, by the system; followed. */
export function usePaper(): 'light' | 'dark' {
  const [isDark, setDark] = useState(() => window.matchMedia(dark).matches);
  useEffect(() => {
    const media = window.matchMedia(dark);
    const follow = (): void => {
      setDark(media.matches);
    };
    media.addEventListener('change', follow);
    return () => {
      media.removeEventListener('change', follow);
    };
  }, []);
  return isDark ? 'dark' : 'light';
}
