import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Report } from '../../src/model/index.ts';
import { group4, HEIGHT, jbig2, JPX, WIDTH } from '../reading/raster/coded-pictures.ts';
import { sampleFile } from '../reading/raster/sample-file.ts';
import type { SampleObjects, SamplePage } from '../reading/raster/sample-file.ts';
import { checkOf } from './check-of.ts';

const PROFILE = readFileSync(new URL('../../node_modules/pdfkit/js/data/sRGB_IEC61966_2_1.icc', import.meta.url));
const BITMAP = { ColorSpace: 'DeviceGray', BitsPerComponent: 1 };
const FAX = { K: -1, Columns: WIDTH, Rows: HEIGHT, BlackIs1: false };
const PAINT = '40 120 90 70 re f';

/** What a page draws with, as it was signed or altered. */
type Feature = (objects: SampleObjects, altered: boolean) => Omit<SamplePage, 'media'>;

function picture(
  objects: SampleObjects,
  data: Uint8Array,
  entries: object,
  altered: boolean,
): Omit<SamplePage, 'media'> {
  const image = objects.stream(data, {
    ...{ Type: 'XObject', Subtype: 'Image', Width: WIDTH, Height: HEIGHT, BitsPerComponent: 8 },
    ...entries,
  });
  const content = `q ${altered ? -120 : 120} 0 0 80 ${altered ? 150 : 30} 110 cm /P Do Q`;
  return { resources: { XObject: { P: image } }, content };
}

function paint(space: unknown, colour: string): Omit<SamplePage, 'media'> {
  return { resources: { ColorSpace: { S: space } }, content: `/S cs ${colour} scn ${PAINT}` };
}

/** A form that paints 90 x 70 points in one colour, for what is drawn by way of a form. */
function painted(objects: SampleObjects, colour: string) {
  return objects.stream(`${colour} 0 0 90 70 re f`, { Type: 'XObject', Subtype: 'Form', BBox: [0, 0, 90, 70] });
}

const FEATURES: Readonly<Record<string, Feature>> = {
  'JPEG 2000': (objects, altered) =>
    picture(objects, Buffer.from(JPX, 'base64'), { Filter: 'JPXDecode', ColorSpace: 'DeviceRGB' }, altered),
  'CCITT group 4': (objects, altered) =>
    picture(objects, group4(), { Filter: 'CCITTFaxDecode', DecodeParms: FAX, ...BITMAP }, altered),
  JBIG2: (objects, altered) => picture(objects, jbig2(group4()), { Filter: 'JBIG2Decode', ...BITMAP }, altered),
  DeviceN: (objects, altered) => {
    const tint = objects.stream('{0 exch 0}', {
      FunctionType: 4,
      Domain: [0, 1, 0, 1],
      Range: [0, 1, 0, 1, 0, 1, 0, 1],
    });
    return paint(['DeviceN', ['Cyan', 'Gold'], 'DeviceCMYK', tint], altered ? '0.1 0.3' : '0.7 0.3');
  },
  Separation: (_, altered) =>
    paint(
      [
        'Separation',
        'Gold',
        'DeviceCMYK',
        {
          FunctionType: 2,
          Domain: [0, 1],
          N: 1,
          C0: [0, 0, 0, 0],
          C1: altered ? [0.8, 0.2, 0, 0.1] : [0, 0.2, 0.8, 0.1],
        },
      ],
      '0.9',
    ),
  Lab: (_, altered) =>
    paint(
      ['Lab', { WhitePoint: [0.9642, 1, 0.8249], Range: [-100, 100, -100, 100] }],
      altered ? '50 40 20' : '50 -40 20',
    ),
  'an ICC profile': (objects, altered) =>
    paint(['ICCBased', objects.stream(PROFILE, { N: 3 })], altered ? '0.2 0.7 0.4' : '0.7 0.2 0.4'),
  overprint: (objects, altered) => ({
    resources: { ExtGState: { G: objects.object({ OP: true, op: true, OPM: 1 }) } },
    content: `/G gs 0 1 0 0 k ${PAINT} 1 0 0 0 k ${altered ? 70 : 90} 140 60 70 re f`,
  }),
  'a soft mask': (objects, altered) => {
    const mask = objects.stream(`${altered ? 0.2 : 0.9} g 0 0 283 283 re f`, {
      ...{ Type: 'XObject', Subtype: 'Form', BBox: [0, 0, 283, 283] },
      Group: { S: 'Transparency', CS: 'DeviceGray' },
    });
    const state = objects.object({ SMask: { Type: 'Mask', S: 'Luminosity', G: mask } });
    return { resources: { ExtGState: { G: state } }, content: `q /G gs 0.1 0.2 0.6 rg ${PAINT} Q` };
  },
  'layers, one of them off': (objects, altered) => {
    const [shown, hidden] = ['shown', 'hidden'].map((Name) => objects.object({ Type: 'OCG', Name }));
    objects.inCatalog('OCProperties', { OCGs: [shown, hidden], D: { OFF: [altered ? shown : hidden] } });
    return {
      resources: { Properties: { Shown: shown, Hidden: hidden } },
      content: `/OC /Shown BDC 0.2 0.5 0.2 rg ${PAINT} EMC /OC /Hidden BDC 0.8 0 0 rg 60 200 40 40 re f EMC`,
    };
  },
  'an annotation': (objects, altered) => ({
    entries: {
      Annots: [
        {
          ...{ Type: 'Annot', Subtype: 'Stamp', F: 4, Rect: [40, 120, 130, 190] },
          AP: { N: painted(objects, altered ? '0.9 0.1 0.1 rg' : '0.1 0.6 0.1 rg') },
        },
      ],
    },
    content: '',
  }),
  'a form field': (objects, altered) => {
    const field = objects.object({
      ...{ Type: 'Annot', Subtype: 'Widget', FT: 'Btn', F: 4, Rect: [40, 120, 130, 190], Ff: 65536 },
      AP: { N: painted(objects, altered ? '0.9 0.8 0.1 rg' : '0.1 0.1 0.6 rg') },
    });
    objects.inCatalog('AcroForm', { Fields: [field] });
    return { entries: { Annots: [field] }, content: '' };
  },
  'a font that is missing': (objects, altered) => ({
    resources: { Font: { F: objects.object({ Type: 'Font', Subtype: 'Type1', BaseFont: 'NowhereSans' }) } },
    content: `BT /F 18 Tf 40 140 Td (${altered ? 'Eleven boars' : 'Eleven boats'}) Tj ET`,
  }),
};

const NAMES = Object.keys(FEATURES);
/** Something that stands on each page beside its feature. */
const MARK = '0 g 180 40 50 9 re f';

/** A book with a page for each feature. */
function book({ altered = false, end = MARK }: { altered?: boolean; end?: string }): Promise<string> {
  return sampleFile((objects) =>
    NAMES.map((name, nth) => {
      const { content, ...more } = FEATURES[name]!(objects, altered);
      // Pages are told apart by so many small squares, as by their folios.
      const folio = Array.from({ length: nth + 1 }, (_, square) => `${20 + 12 * square} 20 6 6 re f`).join(' ');
      return { media: [0, 0, 283, 283] as const, ...more, content: `q ${content} Q 0.3 g ${folio} ${end}` };
    }),
  );
}

/** What stops the plates or wants a look; that the little pictures are coarse is only noted. */
const told = ({ findings }: Report) => findings.filter(({ weight }) => weight !== 'note');

describe('pages that draw with what is rare', () => {
  it('match where the same is only written differently', async () => {
    const report = await checkOf(await book({}), await book({ end: `q ${MARK} Q` }));
    expect(told(report)).toEqual([]);
    expect(report.pages.map(({ state }) => state)).toEqual(NAMES.map(() => 'same-picture'));
  });

  it('differ where a mark beside it is gone, and nothing else is said', async () => {
    const report = await checkOf(await book({}), await book({ end: '' }));
    expect(told(report).map(({ kind, revisionPage }) => `${kind} ${NAMES[revisionPage! - 1]}`)).toEqual(
      NAMES.map((name) => `artwork-changed ${name}`),
    );
  });

  it('differ where it is itself altered', async () => {
    const report = await checkOf(await book({}), await book({ altered: true }));
    const pages = new Set(told(report).map(({ revisionPage }) => revisionPage));
    expect(NAMES.filter((_, index) => !pages.has(index + 1))).toEqual([]);
  });
});
