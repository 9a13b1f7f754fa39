import { useLayoutEffect, useRef, useState } from 'react';
import type { RefObject } from 'react';

/** An element's own width in CSS pixels, as it changes; 0 before it is known. */
export function useWidth<T extends HTMLElement>(): readonly [RefObject<T | null>, number] {
  const of = useRef<T>(null);
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    const element = of.current;
    if (element === null) return undefined;
    const watch = new ResizeObserver(() => setWidth(element.clientWidth));
    watch.observe(element);
    setWidth(element.clientWidth);
    return () => watch.disconnect();
  }, []);
  return [of, width];
}
