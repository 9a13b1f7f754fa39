import { z } from 'zod';
import { arePlates, bookPages, requireFile, wholeBook } from '../../archive/index.ts';
import { Refusal } from '../../model/index.ts';
import { pictureName } from '../../reporting/index.ts';
import { json } from '../table/answer.ts';
import { blobAnswer, madeAnswer } from '../table/blob-answer.ts';
import { route } from '../table/make-route.ts';
import * as form from './forms.ts';
import { pictureAddress } from './picture-address.ts';
import { sliceOf } from './slice.ts';

const page = z
  .object({
    pageNumber: z.int(),
    contentHash: form.sha256.nullable(),
    trimmed: z.object({ width: z.number(), height: z.number() }).nullable().meta({ description: 'in mm' }),
    unreadable: z.string().nullable(),
    picture: z.string().nullable().meta({
      description: 'the address of its picture, to which `&width=` may be added; it names what is shown, for good',
    }),
  })
  .meta({ id: 'Page' });

const box = z
  .object({ x: z.number(), y: z.number(), width: z.number(), height: z.number() })
  .meta({ id: 'Box', description: 'in mm from the top left corner of the trim' });

const layout = z
  .object({
    boxes: z.object({ media: box, crop: box, bleed: box, trim: box }),
    pictures: z.array(
      z.object({
        window: box.meta({ description: 'what shows of it' }),
        placed: box.meta({ description: 'the whole picture as it is placed' }),
        pixelWidth: z.int(),
        pixelHeight: z.int(),
        effectivePpi: z.number(),
        bleeds: z.boolean(),
      }),
    ),
  })
  .meta({ id: 'PageLayout' });

const LOOKING = { may: 'standing', on: 'file', right: 'look' } as const;
const ofFile = z.strictObject({ fileId: form.id });
const ofPage = ofFile.extend({ pageNumber: form.pageNumber });
const PICTURE = { mediaType: 'image/webp', name: null } as const;

/**
 * The pages of a file: what they are, how they look, where what is on them lies.
 *
 * @throws {Refusal} out-of-step, not-found: what was not read yet, a page that is none
 */
export const pageRoutes = [
  route({
    method: 'get',
    path: '/api/files/{fileId}/pages',
    name: 'listPages',
    says: 'The pages of the whole book that a file stands for; `as=signed`: as statements name them, which of imposed sheets are their sides.',
    who: LOOKING,
    params: ofFile,
    query: form.page.extend({ as: z.enum(['book', 'signed']).default('book') }),
    answers: { 200: { says: 'them', json: form.listOf(page) } },
    answer: async ({ params, query, actor, tools }) => {
      const { file } = await requireFile(tools.archive.catalogue, actor, params.fileId);
      const { catalogue } = tools.archive;
      const isSigned = query.as === 'signed';
      const pages = isSigned ? (await wholeBook(catalogue, file))?.pages : await bookPages(catalogue, file);
      if (pages == null) {
        throw new Refusal('out-of-step', {
          what: file.name,
          named: 'a file that was read',
          current: 'still to be read',
        });
      }
      if (!isSigned && (await arePlates(tools.archive, file, pages))) {
        const [named, current] = ['a book that its plates fold to', 'not folded'];
        throw new Refusal('out-of-step', { what: file.name, named, current });
      }
      const shown = pages.map(({ contentHash, trimmed, unreadable }, index) => ({
        ...{ pageNumber: index + 1, contentHash, trimmed, unreadable },
        picture: contentHash === null || isSigned ? null : pictureAddress(params.fileId, index + 1, contentHash),
      }));
      return json(sliceOf(shown, query));
    },
  }),
  route({
    method: 'get',
    path: '/api/files/{fileId}/pages/{pageNumber}/picture',
    name: 'readPagePicture',
    says: 'A page as people see it, or a part of it so near that each pixel of its pictures is seen.',
    who: LOOKING,
    params: ofPage,
    query: z.strictObject({
      width: z.coerce.number().int().min(1).max(3840).default(640),
      part: z
        .string()
        .regex(/^\d{1,3},\d{1,3}$/)
        .optional()
        .meta({ description: 'column and row, from 0, of a part of two inches square, at 1200 ppi; no width then' }),
      shows: form.sha256.optional().meta({
        description:
          'what the picture shows, as the list of pages names it: where it still does, it may be kept for good',
      }),
    }),
    answers: { 200: { says: 'WebP, at least so wide where it is drawn so wide', bytes: ['image/webp'] } },
    answer: async ({ params, query, actor, tools, request }) => {
      const { file } = await requireFile(tools.archive.catalogue, actor, params.fileId);
      if (query.part !== undefined) {
        const [column = 0, row = 0] = query.part.split(',').map(Number);
        const { webp, contentHash } = await tools.pictures.pageDetail(file, params.pageNumber, { column, row });
        return madeAnswer(webp, PICTURE.mediaType, query.shows === pictureName(contentHash));
      }
      const { sha256, contentHash } = await tools.pictures.pagePicture(file, params.pageNumber, query.width);
      const isLasting = query.shows === pictureName(contentHash);
      return blobAnswer(tools.archive.blobs, sha256, request, { ...PICTURE, isLasting });
    },
  }),
  route({
    method: 'get',
    path: '/api/files/{fileId}/pages/{pageNumber}/layout',
    name: 'readPageLayout',
    says: 'Where the boxes of a page and the windows of its pictures lie.',
    who: LOOKING,
    params: ofPage,
    answers: { 200: { says: 'in mm', json: layout } },
    answer: async ({ params, actor, tools }) => {
      const { file } = await requireFile(tools.archive.catalogue, actor, params.fileId);
      const { boxes, pictures } = await tools.pictures.pageLayout(file, params.pageNumber);
      const shown = pictures.map(({ window, placed, pixelWidth, pixelHeight, effectivePpi, bleeds }) => ({
        ...{ window, placed, pixelWidth, pixelHeight, effectivePpi, bleeds },
      }));
      return json({ boxes, pictures: shown });
    },
  }),
];
