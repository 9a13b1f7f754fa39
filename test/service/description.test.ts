import { describe, expect, test } from 'vitest';
import { PROBLEMS, readConfiguration, ROUTES, SETTINGS } from '../../src/service/index.ts';
import { textOf } from '../house/project.ts';
import { refusalOf } from '../refusal-of.ts';
import { machineAt } from './caller.ts';
import { startedService } from './started-service.ts';

const { origin } = await startedService({ WITNESSLEAF_METRICS_TOKEN: 'figures' });
const nobody = machineAt(origin);

interface Operation {
  readonly operationId: string;
  readonly security: readonly unknown[];
  readonly responses: Readonly<Record<string, unknown>>;
}
interface Description {
  readonly openapi: string;
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
  readonly components: { readonly schemas: Readonly<Record<string, unknown>> };
}

describe('the description that is served', () => {
  test('is OpenAPI 3.1 and has every route of the table, with whom it is for and what it answers', async () => {
    const described = (await nobody.get('/api/openapi.json')).json as Description;
    expect(described.openapi).toBe('3.1.0');
    const operations = Object.entries(described.paths).flatMap(([path, methods]) =>
      Object.entries(methods).map(([method, { operationId }]) => `${method} ${path} ${operationId}`),
    );
    expect(operations.sort()).toEqual(ROUTES.map(({ method, path, name }) => `${method} ${path} ${name}`).sort());
    for (const { path, method, who, answers } of ROUTES) {
      const operation = described.paths[path]?.[method];
      expect([operation?.operationId, operation?.security.length === 0]).toEqual([
        operation?.operationId,
        who.may === 'anybody',
      ]);
      expect(Object.keys(operation?.responses ?? {})).toEqual(expect.arrayContaining(Object.keys(answers)));
    }
  });

  test('refers to nothing that it does not have', async () => {
    const { text, json } = await nobody.get('/api/openapi.json');
    const named = [...text.matchAll(/"#\/components\/schemas\/(\w+)"/g)].map(([, name]) => name);
    expect(named.length).toBeGreaterThan(20);
    expect(named.filter((name) => !((name ?? '') in (json as Description).components.schemas))).toEqual([]);
  });

  test('tells a schema from what validates: the kinds of a file are those that are taken', async () => {
    const described = (await nobody.get('/api/openapi.json')).json as Description;
    expect(JSON.stringify(described.paths['/api/parts/{partId}/files/{name}']?.put)).toContain(
      '"enum":["dummy","revision","plates-input"]',
    );
  });
});

describe('problems', () => {
  test('of every kind are explained at the address that is their type', async () => {
    for (const [kind, { status, title }] of Object.entries(PROBLEMS)) {
      const type = `/api/problems/${kind}`;
      expect((await nobody.get(type)).json).toEqual({ type, status, title });
    }
  });

  test('an address that is none, and one that cannot be read, are problems too', async () => {
    for (const [path, status] of [
      ['/api/nothing', 404],
      ['/api/titles/%E0%A4%A', 400],
    ] as const) {
      const heard = await nobody.get(path);
      expect([heard.status, heard.headers.get('content-type')]).toEqual([status, 'application/problem+json']);
      expect(heard.json).toMatchObject({ status, type: expect.stringMatching(/^\/api\/problems\//) as string });
    }
  });
});

describe('every answer', () => {
  test('forbids browsers what is not needed: frames, foreign scripts, guessing of types, telling where one was', async () => {
    const { headers } = await nobody.get('/api/openapi.json');
    const told = [
      'content-security-policy',
      'x-content-type-options',
      'referrer-policy',
      'x-frame-options',
      'x-powered-by',
    ];
    expect(told.map((name) => headers.get(name))).toEqual([
      "default-src 'none';script-src 'self';style-src 'self';img-src 'self' data: blob:;font-src 'self';connect-src 'self';worker-src 'self';form-action 'self';base-uri 'none';frame-ancestors 'none'",
      'nosniff',
      'no-referrer',
      'DENY',
      null,
    ]);
  });
});

describe('health and figures', () => {
  test('health is told to anybody, figures to whoever has the token', async () => {
    expect((await nobody.get('/health/alive')).json).toEqual({ alive: true });
    expect((await nobody.get('/health/ready')).json).toEqual({ ready: true });
    expect((await nobody.get('/metrics')).status).toBe(404);
    const figures = await nobody.get('/metrics', { Authorization: 'Bearer figures' });
    expect(figures.headers.get('content-type')).toBe('text/plain; version=0.0.4; charset=utf-8');
    expect(figures.text).toMatch(/^witnessleaf_jobs\{state="waiting"\} 0$/m);
    expect(figures.text).toMatch(
      /^witnessleaf_request_seconds_count\{route="\/health\/alive",method="GET",status="200"\} 1$/m,
    );
  });

  test('a service that was stopped takes nothing more', async () => {
    const other = await startedService();
    await other.service.stop();
    await expect(fetch(`${other.origin}/health/alive`)).rejects.toThrow('fetch failed');
  });
});

describe('the configuration', () => {
  test('needs nothing', () => {
    expect(readConfiguration({ PATH: '/bin' })).toMatchObject({
      folder: 'storage/archive',
      host: '127.0.0.1',
      port: 8420,
      origin: '',
      uploadBytes: 4 * 2 ** 30,
    });
  });

  test('refuses what is no value, and a variable of ours that is no setting', () => {
    expect(refusalOf(() => readConfiguration({ WITNESSLEAF_PORT: '70000' }))).toEqual({
      kind: 'malformed',
      pointer: 'WITNESSLEAF_PORT',
      expected: 'the port; 0 for any that is free',
      found: '"70000"',
    });
    expect(refusalOf(() => readConfiguration({ WITNESSLEAF_PROT: '1' }))).toEqual({
      kind: 'malformed',
      pointer: 'WITNESSLEAF_PROT',
      expected: 'a setting of the service',
      found: 'none of them',
    });
    expect(readConfiguration({ WITNESSLEAF_ORIGIN: 'https://proof.example/' }).origin).toBe('https://proof.example');
    expect(refusalOf(() => readConfiguration({ WITNESSLEAF_ORIGIN: 'proof.example' }))).toMatchObject({
      kind: 'malformed',
      pointer: 'WITNESSLEAF_ORIGIN',
    });
  });

  test('stands in the README, each setting with its default', () => {
    const rows = [...textOf('README.md').matchAll(/^\| `(WITNESSLEAF_\w+)` \| (.*?) \| (.*?) \|$/gm)];
    const shown = rows.map(([, name, byDefault, says]) => ({ name, byDefault, says }));
    const settings = Object.values(SETTINGS).map(({ name, byDefault, says }) => ({
      name,
      byDefault: name === 'WITNESSLEAF_WORKERS' ? 'one a core' : byDefault === '' ? '' : `\`${byDefault}\``,
      says,
    }));
    expect(shown).toEqual(settings);
  });
});
