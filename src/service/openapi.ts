import type { ZodType } from 'zod';
import { z } from 'zod';
import { createDocument } from 'zod-openapi';
import type {
  ZodOpenApiContentObject,
  ZodOpenApiObject,
  ZodOpenApiOperationObject,
  ZodOpenApiResponseObject,
} from 'zod-openapi';
import { PROBLEMS } from './problems.ts';
import type { ProblemKind } from './problems.ts';
import type { AnswerForm, Route } from './table/route.ts';

const PROBLEM = z
  .looseObject({
    type: z.string().meta({ description: 'where the kind is described; stable' }),
    title: z.string(),
    status: z.int(),
    detail: z.string(),
  })
  .meta({ id: 'Problem', description: 'RFC 9457; what a kind carries beside stands at its `type`' });

/** The table as OpenAPI 3.1, of the schemas that validate. */
export function openApiOf(routes: readonly Route[], version: string): ReturnType<typeof createDocument> {
  const paths: Record<string, Record<string, ZodOpenApiOperationObject>> = {};
  for (const route of routes) paths[route.path] = { ...paths[route.path], [route.method]: operationOf(route) };
  const document: ZodOpenApiObject = {
    openapi: '3.1.0',
    info: {
      title: 'Witness Leaf',
      version,
      description:
        'Later files of a photo book, held against the signed dummy. Whatever a person may not see is answered as if it were not there.',
    },
    paths,
    components: {
      securitySchemes: {
        session: { type: 'apiKey', in: 'cookie', name: 'witnessleaf' },
        token: { type: 'http', scheme: 'bearer' },
      },
    },
  };
  return createDocument(document);
}

function operationOf(route: Route): ZodOpenApiOperationObject {
  const parameters = Object.entries(route.headers).map(([name, description]) => ({
    in: 'header' as const,
    name,
    description,
    schema: { type: 'string' as const },
  }));
  return {
    operationId: route.name,
    summary: route.says,
    description: whoSays(route),
    security: route.who.may === 'anybody' ? [] : [{ session: [] }, { token: [] }],
    requestParams: {
      ...(hasMembers(route.params) ? { path: route.params } : {}),
      ...(hasMembers(route.query) ? { query: route.query } : {}),
    },
    ...(parameters.length === 0 ? {} : { parameters }),
    ...(route.body === null ? {} : { requestBody: { required: true, content: contentOf(route.body) } }),
    responses: {
      ...Object.fromEntries(Object.entries(route.answers).map(([status, form]) => [status, responseOf(form)])),
      ...Object.fromEntries(problemsOf(route).map((kind) => [String(PROBLEMS[kind].status), problemResponse(kind)])),
      default: problemResponse('fault'),
    },
  };
}

function whoSays({ who }: Route): string {
  if (who.may === 'anybody') return 'For anybody.';
  if (who.may === 'signed-in') return 'For whoever is signed in.';
  return `For whoever sees the title and holds the right \`${who.right}\`.`;
}

/** Problems that the table itself gives; what the archive refuses beside them is told by its type. */
function problemsOf({ who, body, query }: Route): readonly ProblemKind[] {
  return [
    ...(body !== null || hasMembers(query) ? (['malformed'] as const) : []),
    ...(who.may === 'anybody' ? [] : (['unidentified'] as const)),
    ...(who.may === 'standing' && who.right !== 'look' ? (['not-allowed'] as const) : []),
    ...(who.may === 'standing' ? (['not-found'] as const) : []),
  ];
}

function problemResponse(kind: ProblemKind): ZodOpenApiResponseObject {
  return { description: PROBLEMS[kind].title, content: { 'application/problem+json': { schema: PROBLEM } } };
}

function contentOf(body: NonNullable<Route['body']>): ZodOpenApiContentObject {
  if ('json' in body) return { 'application/json': { schema: body.json } };
  return Object.fromEntries(
    Object.entries(body.streamed)
      .filter(([mediaType]) => mediaType !== '')
      .map(([mediaType, { says, form }]) => [
        mediaType,
        { schema: form ?? { type: 'string' as const, format: 'binary', description: says } },
      ]),
  );
}

function responseOf({ says, json, bytes = [], headers = {} }: AnswerForm): ZodOpenApiResponseObject {
  const content = {
    ...(json === undefined ? {} : { 'application/json': { schema: json } }),
    ...Object.fromEntries(bytes.map((type) => [type, { schema: { type: 'string' as const, format: 'binary' } }])),
  };
  const told = Object.entries(headers).map(
    ([name, description]) => [name, { description, schema: { type: 'string' as const } }] as const,
  );
  return {
    description: says,
    ...(Object.keys(content).length === 0 ? {} : { content }),
    ...(told.length === 0 ? {} : { headers: Object.fromEntries(told) }),
  };
}

function hasMembers(schema: ZodType): schema is z.ZodObject {
  return schema instanceof z.ZodObject && Object.keys(schema.shape).length > 0;
}
