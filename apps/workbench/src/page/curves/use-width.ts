import type { RefObject } from 'preact';
import { useEffect, useState } from 'preact/hooks';

/** An element's width in whole CSS pixels, followed; 0 before it is known. */
export function useWidth(place: RefObject<HTMLElement | null>): number {
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const element = place.current;
    if (element === null || !('ResizeObserver' in window)) return;
    const observer = new ResizeObserver(() => {
      // Nothing to read off where it is not shown, as in print.
      if (element.clientWidth > 0) setWidth(element.clientWidth);
    });
    observer.observe(element);
    return () => {
      observer.disconnect();
    };
  }, [place]);
  return width;
}
