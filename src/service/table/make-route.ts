import { z } from 'zod';
import type { Route, RouteGiven } from './route.ts';

const NOTHING = z.strictObject({});

/** A line of the table; that schemas and answer fit each other is checked here, by the compiler, and forgotten after. */
export function route<P = Record<never, never>, Q = Record<never, never>, B = undefined>(
  given: RouteGiven<P, Q, B>,
): Route {
  return { params: NOTHING, query: NOTHING, headers: {}, body: null, ...given };
}
