import { randomBytes } from 'node:crypto';
import express from 'express';
import type { ErrorRequestHandler, Express, Request, Response } from 'express';
import { rateLimit } from 'express-rate-limit';
import helmet from 'helmet';
import { Refusal } from '../model/index.ts';
import { servePages } from './pages.ts';
import { faultProblem, problem, problemOf } from './problems.ts';
import { sendProblem } from './table/send.ts';
import { serveRoute } from './table/serve-route.ts';
import type { Route } from './table/route.ts';
import type { ServiceTools } from './tools.ts';

const MINUTE_MS = 60_000;
const NS_PER_S = 1e9;

/**
 * The table as an application: what goes for every request, then each route, then what no route answers.
 *
 * @throws {Refusal} not-found: within a request, for an address that is none
 */
export function appOf(routes: readonly Route[], tools: ServiceTools): Express {
  const app = express();
  app.disable('x-powered-by');
  // Whatever slips past everything below shows no trace.
  app.set('env', 'production');
  app.set('etag', 'strong');
  app.set('trust proxy', tools.configuration.proxies);
  app.set('query parser', 'simple');
  app.use(noteAnswers(tools));
  app.use((request, _response, next) => {
    // Clients that revalidate by themselves say no-cache too; “unchanged” from here is no answer of a cache.
    delete request.headers['cache-control'];
    next();
  });
  app.use(safeHeaders(tools.configuration.origin.startsWith('https:')));
  app.use(atMost(tools.configuration.requestsPerMinute));
  app.use(TRIED_AT_A_DOOR, atMost(tools.configuration.signInsPerMinute));
  app.use('/api/uploads', (_request, response, next) => {
    response.setHeader('Tus-Resumable', '1.0.0');
    next();
  });
  for (const route of routes) app[route.method](expressPath(route.path), serveRoute(route, tools));
  for (const path of new Set(routes.map((route) => route.path))) app.all(expressPath(path), refuseMethod(routes, path));
  app.use(servePages(tools.pagesFolder));
  app.use(() => {
    throw new Refusal('not-found', { what: 'what this address names' });
  });
  app.use(answerProblem(tools));
  return app;
}

/** Where secrets are tried: passwords and invitations. */
const TRIED_AT_A_DOOR = ['/api/sessions', '/api/accounts', '/api/invitations/lookup', '/api/account/password'];

/** Nothing from elsewhere, nothing in a frame, nothing inline. */
function safeHeaders(isSecure: boolean): express.RequestHandler {
  return helmet({
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'none'"],
        scriptSrc: ["'self'"],
        styleSrc: ["'self'"],
        imgSrc: ["'self'", 'data:', 'blob:'],
        fontSrc: ["'self'"],
        connectSrc: ["'self'"],
        workerSrc: ["'self'"],
        formAction: ["'self'"],
        baseUri: ["'none'"],
        frameAncestors: ["'none'"],
      },
    },
    crossOriginEmbedderPolicy: true,
    strictTransportSecurity: isSecure && { includeSubDomains: false },
    referrerPolicy: { policy: 'no-referrer' },
    xFrameOptions: { action: 'deny' },
  });
}

function expressPath(path: string): string {
  return path.replace(/\{(\w+)\}/g, ':$1');
}

function atMost(limit: number): express.RequestHandler {
  return rateLimit({
    windowMs: MINUTE_MS,
    limit,
    standardHeaders: 'draft-8',
    legacyHeaders: false,
    validate: { xForwardedForHeader: false },
    handler: (_request, response) =>
      sendProblem(problem('too-many', `At most ${limit} a minute; please wait.`, { limit }), response),
  });
}

/** One line in the journal for each answer: no address with its secrets, no header, no body. */
function noteAnswers({ journal, metrics }: ServiceTools): express.RequestHandler {
  return (request, response, next) => {
    const begun = process.hrtime.bigint();
    response.on('close', () => {
      const seconds = Number(process.hrtime.bigint() - begun) / NS_PER_S;
      const told = (name: string): string | null =>
        typeof response.locals[name] === 'string' ? response.locals[name] : null;
      const route = told('route') ?? 'none';
      metrics.answered(route, request.method, response.statusCode, seconds);
      journal.info(
        {
          route,
          method: request.method,
          status: response.statusCode,
          ms: Math.round(seconds * 1000),
          person: told('personId'),
          isWhole: response.writableFinished,
        },
        'answered',
      );
    });
    next();
  };
}

function refuseMethod(routes: readonly Route[], path: string): express.RequestHandler {
  const methods = routes.filter((route) => route.path === path).map(({ method }) => method.toUpperCase());
  const allowed = [...new Set(methods.flatMap((method) => (method === 'GET' ? ['GET', 'HEAD'] : [method])))].join(', ');
  return (request, response) => {
    response.locals.route = path;
    sendProblem(
      problem('no-such-method', `${request.method} is not done here; ${allowed} is.`, {}, { Allow: allowed }),
      response,
    );
  };
}

function answerProblem({ journal }: ServiceTools): ErrorRequestHandler {
  return (error: unknown, request: Request, response: Response, _next) => {
    const isGone = response.destroyed || isCut(request);
    const known = problemOf(error, request.headers['if-match'] !== undefined);
    if (known === null && !isGone) {
      const number = randomBytes(6).toString('hex');
      journal.error({ number, route: response.locals.route as unknown, error: traceOf(error) }, 'a fault');
      if (!response.headersSent) return sendProblem(faultProblem(number), response);
    }
    if (response.headersSent || isGone || known === null) return void response.destroy();
    sendProblem(known, response);
  };
}

/** A request that was given up has no socket any more. */
function isCut({ socket }: { readonly socket: { readonly destroyed: boolean } | null }): boolean {
  return socket === null || socket.destroyed;
}

function traceOf(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const own = error.stack ?? error.message;
  return error.cause === undefined ? own : `${own}\ncaused by: ${traceOf(error.cause)}`;
}
