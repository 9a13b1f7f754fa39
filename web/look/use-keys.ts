import { useEffect, useRef } from 'react';

/** What a key does while it is pressed and when it is let go. */
export interface Key {
  readonly press: () => void;
  readonly letGo?: () => void;
}

/** Keys of a view, by their `KeyboardEvent.key`; never while something is written. */
export function useKeys(keys: Readonly<Record<string, Key>>): void {
  const known = useRef(keys);
  useEffect(() => {
    known.current = keys;
  });
  useEffect(() => {
    const of = (event: KeyboardEvent): Key | undefined => {
      return isTheirs(event) || event.ctrlKey || event.metaKey || event.altKey ? undefined : known.current[event.key];
    };
    const down = (event: KeyboardEvent): void => {
      const key = of(event);
      if (key === undefined) return;
      event.preventDefault();
      key.press();
    };
    const up = (event: KeyboardEvent): void => of(event)?.letGo?.();
    window.addEventListener('keydown', down);
    window.addEventListener('keyup', up);
    return () => {
      window.removeEventListener('keydown', down);
      window.removeEventListener('keyup', up);
    };
  }, []);
}

/** What a field does with a key itself: everything where one writes, the arrows where one chooses. */
function isTheirs({ target, key }: KeyboardEvent): boolean {
  if (!(target instanceof HTMLElement)) return false;
  const isChoice = target instanceof HTMLInputElement && /^(radio|checkbox|range)$/.test(target.type);
  return isChoice ? key.startsWith('Arrow') : /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName);
}
