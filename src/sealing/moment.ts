import { Refusal, type Instant } from '../model/index.ts';

const FORM = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$/;

/* eslint-disable no-restricted-globals -- a calendar, not a clock: every moment is given by the caller */

/**
 * A moment as certificates and signatures want it.
 *
 * @throws {Refusal} malformed: not a moment in UTC to the second, or no day of the calendar
 * @source RFC 3339 5.6, narrowed to UTC and whole seconds
 */
export function dateOf(instant: Instant, pointer = '/at'): Date {
  const date = new Date(FORM.test(instant) ? instant : NaN);
  if (Number.isNaN(date.getTime()) || formatInstant(date) !== instant) {
    throw new Refusal('malformed', { pointer, expected: 'a moment like 2026-11-25T10:00:00Z', found: instant });
  }
  return date;
}

/** A moment as statements write it; what is below the second is dropped. */
export function formatInstant(date: Date): Instant {
  return `${date.toISOString().slice(0, 19)}Z`;
}

/** The moment so many days later. @throws {Refusal} as `dateOf` */
export function daysAfter(instant: Instant, days: number): Instant {
  return formatInstant(new Date(dateOf(instant).getTime() + days * 86_400_000));
}
