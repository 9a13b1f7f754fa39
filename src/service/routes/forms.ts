import { z } from 'zod';
import { BINDINGS, Refusal, WORKINGS, type SaidFolding } from '../../model/index.ts';

/** Letters, figures and signs that a person can see; no line breaks, no blank ends. */
function line(most: number): z.ZodString {
  return z
    .string()
    .trim()
    .min(1)
    .max(most)
    .regex(/^[^\p{Cc}]*$/u, 'a single line');
}

/** What people call something. */
export const name = line(200);

/** An id as the archive makes them. */
export const id = z.string().min(1).max(80);

/** A moment. */
export const instant = z.iso.datetime().meta({ description: 'UTC, to the millisecond' });

/** A SHA-256 in hexadecimal. */
export const sha256 = z.string().regex(/^[0-9a-f]{64}$/, '64 lower-case hexadecimal digits');

export const rights = z.array(z.enum(['look', 'send-files', 'sign'])).meta({ description: 'Who acts also looks.' });

export const fileKind = z.enum(['dummy', 'revision', 'plates-input']);

export const fileName = line(500).meta({ description: 'as the sender’s machine calls the file' });

export const remark = z.string().max(10_000);

/** “12-13, 20”: pages of the book that a file replaces, from 1. */
export const pageRanges = z
  .string()
  .max(4000)
  .regex(/^ *\d{1,6}( *- *\d{1,6})?( *, *\d{1,6}( *- *\d{1,6})?)* *$/, 'pages as “12-13, 20”')
  .transform((text) =>
    text.split(',').map((range) => {
      const [first = 0, last = first] = range.split('-').map(Number);
      return { first, last };
    }),
  )
  .meta({ description: 'the pages of the book that the file replaces, as “12-13, 20”' });

/** How leaves are held. */
export const binding = z.enum(BINDINGS);

/** What may be said of how the sheets of a plates input fold; nothing: it is found from them. */
export const foldingFields = {
  plan: sha256
    .nullable()
    .default(null)
    .meta({ description: 'of sheets: the folding plan, by the hash that giving it to the part was answered with' }),
  fold: line(120).nullable().default(null).meta({
    description: 'of sheets, instead: pages of a section, as “16”, or its folds, as “R>L, T>B, L>R”',
  }),
  bound: binding.nullable().default(null).meta({ description: 'with `fold`; sewn where nothing is said' }),
  working: z
    .enum(WORKINGS)
    .nullable()
    .default(null)
    .meta({ description: 'with `fold`: of every sheet; sheetwise where nothing is said' }),
};

/** How sheets are said to fold: by a plan, or by folds. */
export const saidFolding = z.union([
  z.object({ plan: sha256 }),
  z.object({ fold: z.string(), bound: binding, working: z.string() }),
]);

/**
 * What was said of how sheets fold.
 *
 * @param part  where the fields stand: /query, /body …
 * @throws {Refusal} malformed: a plan and folds at once, or how they are bound without folds
 */
export function foldingIn(
  { plan, fold, bound, working }: z.infer<z.ZodObject<typeof foldingFields>>,
  part: string,
): SaidFolding | null {
  const more = (['bound', 'working'] as const).find((field) => ({ bound, working })[field] !== null);
  const refuse = (field: string, expected: string): never => {
    throw new Refusal('malformed', {
      pointer: `${part}/${field}`,
      expected,
      found: plan === null ? 'no fold' : 'both',
    });
  };
  if (plan !== null) return fold === null && more === undefined ? { plan } : refuse('fold', 'a plan or folds');
  if (fold !== null) return { fold, bound: bound ?? 'sewn', working: working ?? 'sheetwise' };
  return more === undefined ? null : refuse(more, 'fold beside it');
}

/** From 1. */
export const pageNumber = z.coerce.number().int().min(1).max(1_000_000);

/** Where a list goes on, and how much of it is wanted. */
export const page = z.strictObject({
  after: z.string().min(1).max(200).optional().meta({ description: 'the `next` of an earlier answer' }),
  most: z.coerce.number().int().min(1).max(200).default(50),
});

/** A list, a piece at a time. */
export function listOf<T extends z.ZodType>(item: T) {
  return z.object({
    items: z.array(item),
    next: z.string().nullable().meta({ description: 'to be sent as `after` for what follows; null at the end' }),
  });
}

/** Milliseconds since 1970 as the API writes a moment. */
export function formatInstant(ms: number): string {
  return new Date(ms).toISOString();
}

export const party = z.object({ id, name }).meta({ id: 'Party' });

export const person = z.object({ id, name, party: id, rights }).meta({ id: 'Person' });

/** A kept person as the API shows one. */
export function shownPerson(one: {
  readonly id: string;
  readonly name: string;
  readonly partyId: string;
  readonly rights: readonly string[];
}) {
  return { id: one.id, name: one.name, party: one.partyId, rights: one.rights };
}
