import type { Request, RequestHandler, Response } from 'express';
import { Refusal } from '../../model/index.ts';
import { visitorOf } from '../entrances/visitor.ts';
import type { Visitor } from '../entrances/visitor.ts';
import { requireOwnOrigin } from '../own-origin.ts';
import type { ServiceTools } from '../tools.ts';
import { passGate } from './gate.ts';
import { readBody, readPart } from './read-parts.ts';
import type { Asked, Route } from './route.ts';
import { sendAnswer } from './send.ts';

/**
 * One line of the table at work. Who asks is settled before anything they sent is looked at, so that no answer about a
 * form tells a stranger what is there.
 */
export function serveRoute(route: Route, tools: ServiceTools): RequestHandler {
  return async (request: Request, response: Response) => {
    response.locals.route = route.path;
    const visitor = await visitorOf(request, tools);
    response.locals.personId = visitor?.actor.personId;
    requireOwnOrigin(request, tools.configuration);
    const params = readParams(route, request.params);
    const titleId = await passGate(route.who, visitor, params, tools);
    const query = readPart(route.query, { ...request.query }, '/query');
    const body = await readBody(route.body, request, response);
    const asked: Asked<never, never, never> = {
      params: params as never,
      query: query as never,
      body: body as never,
      at: tools.now(),
      tools,
      get visitor() {
        return present(visitor);
      },
      get actor() {
        return present(visitor).actor;
      },
      titleId,
      request,
      gone: goneWith(response, tools.stopping),
    };
    await sendAnswer(await route.answer(asked), request, response);
  };
}

/** A path whose parts do not fit names nothing. */
function readParams(route: Route, params: Readonly<Record<string, unknown>>): unknown {
  const read = route.params.safeParse({ ...params });
  if (read.success) return read.data;
  const what = route.who.may === 'standing' ? route.who.on : 'what this address names';
  throw new Refusal('not-found', { what });
}

function present(visitor: Visitor | null): Visitor {
  if (visitor === null) throw new Error('a route for everybody asks for its visitor');
  return visitor;
}

function goneWith(response: Response, stopping: AbortSignal): AbortSignal {
  const gone = new AbortController();
  response.on('close', () => gone.abort());
  return AbortSignal.any([gone.signal, stopping]);
}
