import { z } from 'zod';
import type { KeptReport, SentFile } from '../../archive/index.ts';
import { requireFile, sheetsOfFile } from '../../archive/index.ts';
import { Refusal } from '../../model/index.ts';
import { pictureName } from '../../reporting/index.ts';
import { json } from '../table/answer.ts';
import { blobAnswer } from '../table/blob-answer.ts';
import { route } from '../table/make-route.ts';
import type { ServiceTools } from '../tools.ts';
import * as form from './forms.ts';
import { sideAddress } from './picture-address.ts';

const length = z.number().meta({ description: 'in mm' });

const cell = z.object({
  page: z.int().nullable().meta({ description: 'the page that belongs there; null for a blank' }),
  row: z.int(),
  column: z.int(),
  box: z.object({ x: length, y: length, width: length, height: length }),
  turnDeg: z.union([z.literal(0), z.literal(90), z.literal(180), z.literal(270)]),
});

const plate = z.object({
  file: z.string().meta({ description: 'its name in what was sent' }),
  sha256: form.sha256.meta({ description: 'of its file; where it is a page of a PDF, that page’s content' }),
  bytes: z.int(),
  sheet: z.int(),
  side: z.enum(['front', 'back', 'both']),
  ink: z.string().meta({ description: 'cyan, magenta, yellow, black, or the name of a spot colour' }),
  width: length,
  height: length,
  ppi: z.number(),
  bits: z.union([z.literal(1), z.literal(8)]),
  coveragePercent: z.number(),
  rulingLpi: z.number().nullable().meta({ description: 'rows of dots an inch, estimated' }),
  screenDeg: z.number().nullable(),
});

const sheets = z
  .object({
    plan: z.enum(['given', 'made', 'found']).meta({ description: 'where the folding plan comes from' }),
    binding: form.binding,
    located: z
      .enum(['plan', 'boxes', 'marks', 'matching'])
      .meta({ description: 'how the places of the pages were found' }),
    foldedBook: form.sha256.meta({ description: 'of the book that the sheets fold to' }),
    foldingPlan: form.sha256.meta({ description: 'of the plan, as witnessleaf-plan/1' }),
    confirmed: z
      .object({ by: form.person.omit({ rights: true }), at: form.instant })
      .nullable()
      .meta({ description: 'of a plan that was found: who of the printer confirmed it; null where nobody did' }),
    saidAgain: z
      .array(z.object({ folding: form.saidFolding, by: form.person.omit({ rights: true }), at: form.instant }))
      .meta({ description: 'how they fold, as it was said after they were sent; the last one counts' }),
    isCheckedSo: z.boolean().meta({ description: 'whether they were checked by what was said last' }),
    sides: z.array(
      z.object({
        sheet: z.int(),
        side: z.enum(['front', 'back', 'both']),
        filePage: z.int().meta({
          description: 'the page of the file that the side is; where sides came as plates, its place among them',
        }),
        width: length,
        height: length,
        contentHash: form.sha256
          .nullable()
          .meta({ description: 'of that page, or of what was put together from plates' }),
        picture: z.string().nullable().meta({ description: 'the address of its picture, as of a page' }),
        cells: z.array(cell),
      }),
    ),
    separations: z
      .array(plate)
      .nullable()
      .meta({ description: 'where sides came as one plate for each ink: every plate; else null' }),
  })
  .meta({ id: 'Sheets' });

const LOOKING = { may: 'standing', on: 'file', right: 'look' } as const;
const PICTURE = { mediaType: 'image/webp', name: null } as const;

/**
 * Imposed sheets as they were sent: which page lies where on which side, and the sides as pictures.
 *
 * @throws {Refusal} not-found: the file is no sheets, or was not taken apart yet
 */
export const sheetRoutes = [
  route({
    method: 'get',
    path: '/api/files/{fileId}/sheets',
    name: 'readSheets',
    says: 'How the sheets of a plates input were taken apart.',
    who: LOOKING,
    params: z.strictObject({ fileId: form.id }),
    answers: { 200: { says: 'them', json: sheets } },
    answer: async ({ params, actor, tools }) => {
      const { file } = await requireFile(tools.archive.catalogue, actor, params.fileId);
      const found = await sheetsOfFile(tools.archive, file);
      if (found === null) throw new Refusal('not-found', { what: 'sheets' });
      const { plan, binding, located, sides, folded, report, separations = null } = found;
      const shown = sides.map(({ contentHash, ...side }) => ({
        ...{ ...side, contentHash },
        picture: contentHash === null ? null : sideAddress(params.fileId, side.filePage, contentHash),
      }));
      const [foldedBook, foldingPlan] = [folded.sha256, folded.plan];
      const said = await saidOf(tools, file, report);
      return json({ plan, binding, located, foldedBook, foldingPlan, ...said, sides: shown, separations });
    },
  }),
  route({
    method: 'get',
    path: '/api/files/{fileId}/sides/{pageNumber}/picture',
    name: 'readSidePicture',
    says: 'A side of a sheet as people see it: a page of the file as it was sent, or what its plates print together.',
    who: LOOKING,
    params: z.strictObject({ fileId: form.id, pageNumber: form.pageNumber }),
    query: z.strictObject({
      width: z.coerce.number().int().min(1).max(3840).default(1280),
      shows: form.sha256.optional().meta({ description: 'as of the picture of a page' }),
    }),
    answers: { 200: { says: 'WebP, at least so wide where it is drawn so wide', bytes: ['image/webp'] } },
    answer: async ({ params, query, actor, tools, request }) => {
      const { file } = await requireFile(tools.archive.catalogue, actor, params.fileId);
      const { sha256, contentHash } = await tools.pictures.sidePicture(file, params.pageNumber, query.width);
      const isLasting = query.shows === pictureName(contentHash);
      return blobAnswer(tools.archive.blobs, sha256, request, { ...PICTURE, isLasting });
    },
  }),
];

/** What people say of how the sheets fold. */
async function saidOf({ archive: { catalogue } }: ServiceTools, file: SentFile, report: KeptReport) {
  const { foldings, people } = catalogue;
  const shown = async ({ personId, atMs }: { readonly personId: string; readonly atMs: number }) => {
    const person = await people.get(personId);
    const by = { id: personId, name: person?.name ?? '', party: person?.partyId ?? '' };
    return { by, at: form.formatInstant(atMs) };
  };
  const confirmed = await foldings.confirmedIn(report.id);
  const again = await foldings.saidAgain(file.id);
  return {
    confirmed: confirmed && (await shown(confirmed)),
    saidAgain: await Promise.all(again.map(async (one) => ({ folding: one.folding, ...(await shown(one)) }))),
    isCheckedSo: report.folding === file.foldingNumber,
  };
}
