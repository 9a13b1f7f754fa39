import type { Weight } from '../model/index.ts';
import type { Outlet } from './desk.ts';

/** The few ways a word stands out on a terminal; the word itself always says the same. */
export type Ink = Weight | 'strong' | 'faded';

const CODES: Readonly<Record<Ink, string>> = { stop: '1;33', look: '33', note: '2', strong: '1', faded: '2' };

/** A text in an ink, or as it is where the outlet has no colour. */
export function inked(outlet: Outlet, text: string, ink: Ink): string {
  return outlet.hasColour ? `\u001b[${CODES[ink]}m${text}\u001b[0m` : text;
}
