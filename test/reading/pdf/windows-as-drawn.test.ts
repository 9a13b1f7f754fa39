import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import { openBook } from '../../../src/reading/pdf/book.ts';
import { placementsOnPage } from '../../../src/reading/pdf/placements.ts';
import { fileOf, greyImage, handPdf, stream } from './hand-pdf.ts';
import { hasTool, run } from './outside-tool.ts';

const PAGES = 60;
const PPI = 432;
/** Four pixels: poppler paints every pixel that a shape touches, and at a flat angle one row is several columns. */
const TRUE_TO_MM = (4 * 25.4) / PPI;

/** Numbers from 0 to 1 that look random and are the same on every run. */
function lottery(seed: number): () => number {
  let state = seed;
  return () => (state = (state * 16_807) % 2_147_483_647) / 2_147_483_647;
}

/** Turns about the middle of the page. */
const turn = (degrees: number): string => {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)].map((n) => n.toFixed(6));
  return `1 0 0 1 100 100 cm ${c} ${s} ${-Number(s)} ${c} 0 0 cm 1 0 0 1 -100 -100 cm`;
};

function ellipse(x: number, y: number, a: number, b: number): string {
  const [k, l] = [a * 0.552285, b * 0.552285];
  return [
    `${x + a} ${y} m ${x + a} ${y + l} ${x + k} ${y + b} ${x} ${y + b} c ${x - k} ${y + b} ${x - a} ${y + l} ${x - a} ${y} c`,
    `${x - a} ${y - l} ${x - k} ${y - b} ${x} ${y - b} c ${x + k} ${y - b} ${x + a} ${y - l} ${x + a} ${y} c h`,
  ].join(' ');
}

/** A page that draws one black image through one to three clips of random kinds, and at most one clip with dents. */
function page(seed: number): string {
  const draw = lottery(seed * 7919);
  for (let warm = 0; warm < 5; warm += 1) draw();
  const size = (): number => 60 + 100 * draw();
  const place = (): number => 40 + 120 * draw();
  const content: string[] = [];
  let dents = 0;
  for (let clips = 1 + Math.floor(draw() * 3); clips > 0; clips -= 1) {
    const kind = Math.floor(draw() * 5);
    if (kind === 0) content.push(`${place() - 40} ${place() + 60} ${size()} ${-size()} re W n`);
    else if (kind === 1)
      content.push(`${turn(360 * draw())} ${place() - 40} ${place() - 40} ${size()} ${size()} re W n`);
    else if (kind === 2) content.push(`${ellipse(place(), place(), size() / 2, size() / 2)} W n`);
    else if (kind === 3) content.push(`${place()} ${place()} m ${place()} ${place()} l ${place()} ${place()} l h W* n`);
    else if (dents === 0) {
      const [x, y] = [place(), place()];
      // An arrowhead: dented at its foot.
      content.push(`${x} ${y} m ${x + 80} ${y + 10} l ${x + 30} ${y + 30} l ${x + 10} ${y + 90} l h W n`);
      dents += 1;
    }
  }
  content.push(
    `${turn(draw() < 0.5 ? 0 : 360 * draw())} ${size()} 0 0 ${size()} ${place() - 50} ${place() - 50} cm /Im Do`,
  );
  return content.join('\n');
}

/** The box around all ink in a PGM file, in pixels, or null. */
function inkBox(file: Buffer): readonly [left: number, top: number, right: number, bottom: number] | null {
  const [, width, height] = /^P5\s(\d+)\s(\d+)\s255\s/.exec(file.toString('latin1', 0, 40))!.map(Number) as [
    number,
    number,
    number,
  ];
  const pixels = file.subarray(file.length - width * height);
  let [left, top, right, bottom] = [width, height, -1, -1];
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      // The tip of a sharp corner covers only a little of its pixel.
      if (pixels[y * width + x]! > 250) continue;
      [left, top, right, bottom] = [
        Math.min(left, x),
        Math.min(top, y),
        Math.max(right, x + 1),
        Math.max(bottom, y + 1),
      ];
    }
  }
  return right === -1 ? null : [left, top, right, bottom];
}

describe.skipIf(!hasTool('pdftoppm', 'poppler-utils'))('a window is what poppler draws of the picture', () => {
  it(`through ${PAGES} heaps of clips`, async () => {
    const objects: Record<number, string | Buffer> = { 1: '<</Type/Catalog/Pages 2 0 R>>', 5: greyImage(4, 4, 0) };
    const kids: string[] = [];
    for (let index = 0; index < PAGES; index += 1) {
      kids.push(`${10 + 2 * index} 0 R`);
      const resources = '/Resources<</XObject<</Im 5 0 R>>>>';
      objects[10 + 2 * index] =
        `<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 200]${resources}/Contents ${11 + 2 * index} 0 R>>`;
      objects[11 + 2 * index] = stream('', page(index + 1));
    }
    objects[2] = `<</Type/Pages/Count ${PAGES}/Kids[${kids.join(' ')}]>>`;
    const path = fileOf(handPdf(objects));
    run('pdftoppm', ['-r', String(PPI), '-gray', path, path]);
    const book = await openBook(path, DEFAULT_LIMITS);
    const wrong: unknown[] = [];
    let shown = 0;
    for (let pageNumber = 1; pageNumber <= PAGES; pageNumber += 1) {
      const drawn = inkBox(readFileSync(`${path}-${String(pageNumber).padStart(2, '0')}.pgm`));
      const { window } = placementsOnPage(book, pageNumber)[0]!;
      const mm = drawn?.map((pixels) => (pixels * 25.4) / PPI);
      if (mm !== undefined) shown += 1;
      const ours =
        window === null ? undefined : [window.x, window.y, window.x + window.width, window.y + window.height];
      const isSliver = window !== null && Math.min(window.width, window.height) < TRUE_TO_MM;
      const agrees =
        mm === undefined || ours === undefined
          ? (mm === undefined && ours === undefined) || isSliver
          : ours.every((edge, index) => Math.abs(edge - mm[index]!) <= TRUE_TO_MM);
      if (!agrees) wrong.push({ pageNumber, drawn: mm, ours, content: page(pageNumber) });
    }
    expect(wrong).toEqual([]);
    expect(shown).toBeGreaterThan(PAGES / 2);
  });
});
