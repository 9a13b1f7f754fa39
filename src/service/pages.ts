import { existsSync } from 'node:fs';
import { join } from 'node:path';
import express from 'express';
import type { RequestHandler } from 'express';

/** Addresses that programs ask; to them a page is no answer. */
const OF_PROGRAMS = /^\/(api|health|metrics)(\/|$)/;

/** A file whose name has the hash of what is in it never changes. */
const NAMED_BY_CONTENT = /[/\\]assets[/\\][^/\\]+-[\w-]{8}\.\w+$/;

const IMMUTABLE = 'public, max-age=31536000, immutable';

const NOT_BUILT =
  'Witness Leaf is at work, but its pages were not built. Stop it and start it by “npm start”, which builds them, or run “npm run pages”. Programs are answered as ever; /api/openapi.json describes how.\n';

/**
 * The pages for people: their files as they were built, and the first of them at every other address, which then shows
 * what the address names.
 *
 * @param folder  where they were built
 */
export function servePages(folder: string): RequestHandler {
  const pages = express.Router();
  pages.use((request, response, next) => {
    response.locals.route = '/pages';
    if (OF_PROGRAMS.test(request.path) || !['GET', 'HEAD'].includes(request.method)) next('router');
    else next();
  });
  pages.use(
    express.static(folder, {
      index: false,
      redirect: false,
      dotfiles: 'ignore',
      cacheControl: false,
      setHeaders: (response, path) =>
        void response.setHeader('Cache-Control', NAMED_BY_CONTENT.test(path) ? IMMUTABLE : 'no-cache'),
    }),
  );
  pages.use((request, response, next) => {
    // A browser that goes somewhere asks for HTML by name; to anything else a page is no answer either.
    if (request.headers.accept?.includes('text/html') !== true) return next('router');
    response.setHeader('Cache-Control', 'no-cache');
    const first = 'index.html';
    if (existsSync(join(folder, first))) response.sendFile(first, { root: folder, cacheControl: false });
    else response.status(503).type('text/plain').send(NOT_BUILT);
  });
  return pages;
}
