import { useEffect, useRef } from 'react';
import type { RefObject } from 'react';
import { moved, zoomed } from './pan-zoom.ts';
import type { Place, Size } from './pan-zoom.ts';

interface HandGiven {
  readonly page: Size;
  readonly onPlace: (change: (place: Place, window: Size) => Place) => void;
  /** Where the pointer is over the window; null: gone. */
  readonly onPoint: (at: { readonly x: number; readonly y: number } | null) => void;
}

const WHEEL_STEP = 0.0016;

/** Moves a page by hand: dragged, pinched with two fingers, brought nearer by the wheel. */
export function useHand<T extends HTMLElement>({ page, onPlace, onPoint }: HandGiven): RefObject<T | null> {
  const of = useRef<T>(null);
  const given = useRef({ page, onPlace, onPoint });
  useEffect(() => {
    given.current = { page, onPlace, onPoint };
  });
  useEffect(() => {
    const element = of.current;
    if (element === null) return undefined;
    const fingers = new Map<number, { x: number; y: number }>();
    const within = (event: MouseEvent) => {
      const { left, top } = element.getBoundingClientRect();
      return { x: event.clientX - left, y: event.clientY - top };
    };
    const spread = () => {
      const [one, other] = [...fingers.values()];
      if (one === undefined || other === undefined) return null;
      return {
        apart: Math.hypot(one.x - other.x, one.y - other.y),
        x: (one.x + other.x) / 2,
        y: (one.y + other.y) / 2,
      };
    };
    const wheel = (event: WheelEvent): void => {
      event.preventDefault();
      const at = within(event);
      const lines = event.deltaMode === 1 ? 16 : 1;
      const factor = Math.exp(-event.deltaY * lines * WHEEL_STEP);
      given.current.onPlace((place, window) => zoomed(place, factor, at, given.current.page, window));
    };
    const down = (event: PointerEvent): void => {
      fingers.set(event.pointerId, within(event));
      element.setPointerCapture(event.pointerId);
    };
    const move = (event: PointerEvent): void => {
      const at = within(event);
      given.current.onPoint(at);
      const before = fingers.get(event.pointerId);
      if (before === undefined) return;
      const was = spread();
      fingers.set(event.pointerId, at);
      const is = spread();
      given.current.onPlace((place, window) => {
        if (was === null || is === null) {
          return moved(place, { x: at.x - before.x, y: at.y - before.y }, given.current.page, window);
        }
        const nearer = zoomed(place, is.apart / Math.max(1, was.apart), is, given.current.page, window);
        return moved(nearer, { x: is.x - was.x, y: is.y - was.y }, given.current.page, window);
      });
    };
    const up = (event: PointerEvent): void => {
      fingers.delete(event.pointerId);
    };
    const leave = (): void => given.current.onPoint(null);
    element.addEventListener('wheel', wheel, { passive: false });
    element.addEventListener('pointerdown', down);
    element.addEventListener('pointermove', move);
    element.addEventListener('pointerup', up);
    element.addEventListener('pointercancel', up);
    element.addEventListener('pointerleave', leave);
    return () => {
      element.removeEventListener('wheel', wheel);
      element.removeEventListener('pointerdown', down);
      element.removeEventListener('pointermove', move);
      element.removeEventListener('pointerup', up);
      element.removeEventListener('pointercancel', up);
      element.removeEventListener('pointerleave', leave);
    };
  }, []);
  return of;
}
