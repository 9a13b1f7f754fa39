import { z } from 'zod';
import { BINDINGS, Refusal, parseTolerances } from '../model/index.ts';
import type { FindingKind, Measured, Report } from '../model/index.ts';

const pageNumber = z.int().min(1);
const page = pageNumber.nullable();
const box = z.object({ x: z.number(), y: z.number(), width: z.number().min(0), height: z.number().min(0) });
const size = z.object({ width: z.number(), height: z.number() });
const none = z.object({}).transform((): Readonly<Record<string, never>> => ({}));

const onSheet = z.object({
  sheet: pageNumber,
  side: z.enum(['front', 'back', 'both']),
  row: pageNumber,
  column: pageNumber,
});

const onPlate = z.object({ sheet: pageNumber, side: z.enum(['front', 'back', 'both']), ink: z.string() });

const MEASURED: { readonly [K in FindingKind]: z.ZodType<Measured[K]> } = {
  'page-moved': z.object({ fromPosition: pageNumber, toPosition: pageNumber }),
  'page-missing': none,
  'page-added': none,
  'page-repeated': z.object({ firstAt: pageNumber }),
  'page-emptied': none,
  'page-resized': z.object({ dummyMm: size, revisionMm: size }),
  'page-turned': z.object({ degrees: z.literal([90, 180, 270]) }),
  'page-unreadable': z.object({ file: z.enum(['dummy', 'revision']), cause: z.string() }),
  'page-outdated': z.object({ file: z.string(), revisionNumber: pageNumber.nullable(), page: pageNumber }),
  'page-in-wrong-cell': onSheet.extend({ belongsToPage: pageNumber }),
  'pages-exchanged': onSheet.extend({ otherPage: pageNumber }),
  'sides-exchanged': z.object({ sheet: pageNumber }),
  'section-out-of-order': z.object({ sheet: pageNumber, atSheet: pageNumber }),
  'collating-mark-off': z.object({ sheet: pageNumber, marksSection: pageNumber }),
  'back-out-of-register': z.object({ sheet: pageNumber, shiftXmm: z.number(), shiftYmm: z.number() }),
  'page-off-place': onSheet.extend({ shiftXmm: z.number(), shiftYmm: z.number() }),
  'creep-off-plan': z.object({ sheet: pageNumber, plannedMm: z.number(), foundMm: z.number() }),
  'separation-missing': onPlate,
  'separation-doubled': onPlate.extend({ file: z.string() }),
  'separation-of-another-sheet': onPlate.extend({ belongsToSheet: pageNumber.nullable() }),
  'inks-exchanged': onPlate.extend({ otherInk: z.string() }),
  'separation-out-of-register': onPlate.extend({ shiftXmm: z.number(), shiftYmm: z.number() }),
  'separation-empty': onPlate,
  'screen-coarse': onPlate.extend({ rulingLpi: z.number(), limitLpi: z.number() }),
  'picture-missing': none,
  'picture-added': none,
  'picture-replaced': z.object({ likeness: z.number().min(0).max(1) }),
  'picture-moved': z.object({ shiftXmm: z.number(), shiftYmm: z.number() }),
  'picture-resized': z.object({ scale: z.number().positive() }),
  'crop-altered': z.object({
    shiftXmm: z.number(),
    shiftYmm: z.number(),
    scale: z.number().positive(),
    cutMm: z.object({ left: z.number(), right: z.number(), top: z.number(), bottom: z.number() }),
    uncertaintyMm: z.number().min(0),
    decidedBy: z.enum(['pixels', 'placement']),
  }),
  'picture-turned': z.object({ degrees: z.number() }),
  'picture-mirrored': z.object({ axis: z.enum(['horizontal', 'vertical']) }),
  'picture-retouched': z.object({ areaMm2: z.number().min(0) }),
  'picture-recoloured': z.object({ meanDeltaE00: z.number().min(0), worstDeltaE00: z.number().min(0) }),
  'picture-coarse': z.object({ ppi: z.number().min(0), limitPpi: z.number().min(0) }),
  'text-changed': z.object({ before: z.string(), after: z.string() }),
  'artwork-changed': z.object({ areaMm2: z.number().min(0) }),
};

const KINDS = Object.keys(MEASURED) as readonly FindingKind[];

const finding = z
  .object({
    id: z.string().min(1),
    kind: z.enum(KINDS),
    weight: z.enum(['stop', 'look', 'note']),
    dummyPage: page,
    revisionPage: page,
    box: box.nullable(),
    revisionBox: box.nullable(),
    measured: z.record(z.string(), z.unknown()),
    says: z.string().min(1),
  })
  .transform((given, context) => {
    const measured = MEASURED[given.kind].safeParse(given.measured);
    if (measured.success) return { ...given, measured: measured.data };
    for (const { path, message } of measured.error.issues) {
      context.addIssue({ code: 'custom', path: ['measured', ...path], message });
    }
    return z.NEVER;
  });

const identity = z.object({
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  bytes: z.int().min(0),
  pages: z.int().min(0),
});

const document = z.object({
  format: z.literal('witnessleaf-report/1'),
  dummy: identity,
  revision: identity,
  tolerances: z.record(z.string(), z.number()),
  pages: z.array(
    z.object({
      dummyPage: page,
      revisionPage: page,
      state: z.enum(['same-content', 'same-picture', 'differs', 'missing', 'added', 'repeated']),
      colour: z.object({ meanDeltaE00: z.number(), worstDeltaE00: z.number() }).optional(),
    }),
  ),
  findings: z.array(finding),
  verdict: z.enum(['match', 'differs']),
  renderer: z.string(),
  cautions: z.array(z.string()),
  sheets: z
    .object({
      plan: z.enum(['given', 'made', 'found']),
      binding: z.enum(BINDINGS),
      filePages: pageNumber,
      located: z.enum(['plan', 'boxes', 'marks', 'matching']),
      sides: z.array(
        z.object({
          sheet: pageNumber,
          side: z.enum(['front', 'back', 'both']),
          filePage: pageNumber,
          width: z.number(),
          height: z.number(),
          cells: z.array(
            z.object({ page, row: pageNumber, column: pageNumber, box, turnDeg: z.literal([0, 90, 180, 270]) }),
          ),
        }),
      ),
      separations: z
        .array(
          z.object({
            file: z.string(),
            sha256: z.string().regex(/^[0-9a-f]{64}$/),
            bytes: z.int().min(0),
            ...onPlate.shape,
            width: z.number(),
            height: z.number(),
            ppi: z.number(),
            bits: z.literal([1, 8]),
            coveragePercent: z.number(),
            rulingLpi: z.number().nullable(),
            screenDeg: z.number().nullable(),
          }),
        )
        .optional(),
    })
    .optional(),
});

/**
 * Reads a published report back; members that this version does not know are left out.
 *
 * @throws {Refusal} malformed: not JSON, or not the shape of `witnessleaf-report/1`
 */
export function parseReport(text: string): Report {
  const parsed = document.safeParse(parseJson(text));
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    throw new Refusal('malformed', {
      pointer: `report/${issue?.path.map(String).join('/') ?? ''}`,
      expected: 'the form of witnessleaf-report/1',
      found: issue?.message ?? 'something else',
    });
  }
  // The transform above has checked `measured` against its kind, which the inferred type cannot say.
  return { ...parsed.data, tolerances: parseTolerances(parsed.data.tolerances) } as Report;
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (cause) {
    throw new Refusal('malformed', { pointer: 'report', expected: 'JSON', found: 'something else' }, cause);
  }
}
