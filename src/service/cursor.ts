import { Refusal } from '../model/index.ts';

/** Puts the place where a list goes on into a text that nobody has to understand. */
export function formatCursor(place: string | number): string {
  return Buffer.from(String(place), 'utf8').toString('base64url');
}

/** The place that a cursor names, as it was put in; what it means is checked by whoever goes on from there. */
export function parseCursor(cursor: string): string {
  const place = Buffer.from(cursor, 'base64url').toString('utf8');
  return formatCursor(place) === cursor ? place : refuseCursor();
}

/** @throws {Refusal} malformed: not a cursor that an earlier answer gave */
export function refuseCursor(): never {
  throw new Refusal('malformed', {
    pointer: '/after',
    expected: 'the “next” of an earlier answer',
    found: 'something else',
  });
}
