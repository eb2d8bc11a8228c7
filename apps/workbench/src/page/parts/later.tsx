import type { ComponentType, JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { words } from '../words.ts';

type LaterProps<P> = P & { readonly load: () => Promise<ComponentType<P>> };

/** A view that is fetched when it is first shown. */
export function Later<P extends object>({ load, ...props }: LaterProps<P>): JSX.Element {
  const [View, show] = useState<ComponentType<P> | null>(null);
  const [failed, fail] = useState(false);
  useEffect(() => {
    load().then(
      (loaded) => {
        show(() => loaded);
      },
      () => {
        fail(true);
      },
    );
  }, [load]);
  if (View !== null) return <View {...(props as unknown as P)} />;
  return failed ? <p role="alert">{words.unreachable}</p> : <p class="pending">{words.computing}</p>;
}
