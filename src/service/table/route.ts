import type { Request } from 'express';
import type { z } from 'zod';
import type { Actor, Right } from '../../archive/index.ts';
import type { Visitor } from '../entrances/visitor.ts';
import type { ServiceTools } from '../tools.ts';
import type { Answer } from './answer.ts';
import type { ThingOfTitle } from './title-of.ts';

/** Methods as Express has them. */
export type Method = 'get' | 'head' | 'post' | 'put' | 'patch' | 'delete' | 'options';

/**
 * Who may use a route. `standing`: whoever sees the title that the thing in the path belongs to, and holds the right;
 * to everybody else there is no such thing.
 */
export type Who =
  | { readonly may: 'anybody' }
  | { readonly may: 'signed-in' }
  | { readonly may: 'standing'; readonly on: ThingOfTitle; readonly right: Right };

/** What a request brings along. */
export type BodyForm<B> =
  | { readonly json: z.ZodType<B> }
  /** Read by the route itself while it arrives; the media types that it takes. */
  | { readonly streamed: Readonly<Record<string, { readonly says: string; readonly form?: z.ZodType }>> };

/** What a route may answer with when all is well. */
export interface AnswerForm {
  readonly says: string;
  readonly json?: z.ZodType;
  /** Media types of bytes, text or events. */
  readonly bytes?: readonly string[];
  readonly headers?: Readonly<Record<string, string>>;
}

/** A request that was let in, with its parts as the schemas give them. */
export interface Asked<P, Q, B> {
  readonly params: P;
  readonly query: Q;
  readonly body: B;
  readonly at: number;
  readonly tools: ServiceTools;
  /** Whoever asks. Only of routes that not everybody may use. */
  readonly visitor: Visitor;
  readonly actor: Actor;
  /** The title that the thing in the path belongs to; only of routes with a standing. */
  readonly titleId: string;
  readonly request: Request;
  /** Aborted when nobody waits for the answer any more, or the service stops. */
  readonly gone: AbortSignal;
}

/** One line of the table: everything that validates, guards, documents and answers. */
export interface Route {
  readonly method: Method;
  /** As OpenAPI writes it: `/api/titles/{titleId}`. */
  readonly path: string;
  readonly name: string;
  readonly says: string;
  readonly who: Who;
  readonly params: z.ZodType;
  readonly query: z.ZodType;
  /** Request headers that mean something to it, as documentation. */
  readonly headers: Readonly<Record<string, string>>;
  readonly body: BodyForm<unknown> | null;
  readonly answers: Readonly<Record<number, AnswerForm>>;
  readonly answer: (asked: Asked<never, never, never>) => Promise<Answer>;
}

/** A route as it is written down; `params` and `query` may be left out. */
export type RouteGiven<P, Q, B> = Omit<Route, 'params' | 'query' | 'headers' | 'body' | 'answer'> & {
  readonly params?: z.ZodType<P>;
  readonly query?: z.ZodType<Q>;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: BodyForm<B>;
  readonly answer: (asked: Asked<P, Q, B>) => Promise<Answer>;
};
