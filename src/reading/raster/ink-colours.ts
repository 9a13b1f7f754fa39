import { PDFName, type PDFStream, type PDFContext, type PDFObject } from '@cantoo/pdf-lib';
import { createCanvasForPage } from './fonts-when-asked.ts';
import { gridInks, GRID, inkTable, type InkTable } from './ink-table.ts';
import { withDocument } from './pdfjs.ts';
import { SlimObjects } from './slim-objects.ts';
import { writeFile } from './write-file.ts';

/** A square picture has room for every point of the grid. */
const SIDE = GRID ** 2;

let deviceTable: Promise<InkTable> | null = null;
const profileTables = new WeakMap<PDFStream, Promise<InkTable>>();

/**
 * The screen colours of a colour space of four inks, as the renderer itself shows them: it is asked once for all points
 * of a grid, which takes as long as a small picture, and kept as long as the profile. Colours between the points differ
 * from the renderer's own by up to 3 of 255 levels, 0.2 in the mean.
 *
 * @param profile  of ICCBased, or null for DeviceCMYK
 */
export function inkColours(context: PDFContext, profile: PDFStream | null): Promise<InkTable> {
  if (profile === null) {
    deviceTable ??= askRenderer(context, null);
    return deviceTable;
  }
  const known = profileTables.get(profile) ?? askRenderer(context, profile);
  profileTables.set(profile, known);
  return known;
}

async function askRenderer(context: PDFContext, profile: PDFStream | null): Promise<InkTable> {
  const objects = new SlimObjects(context);
  const { scratch, substitutes } = objects;
  const space: PDFObject =
    profile === null ? PDFName.of('DeviceCMYK') : scratch.obj([PDFName.of('ICCBased'), objects.add(profile)]);
  const picture = scratch.stream(gridInks(), { Type: 'XObject', Subtype: 'Image', Width: SIDE, Height: SIDE });
  picture.dict.set(PDFName.of('BitsPerComponent'), scratch.obj(8));
  picture.dict.set(PDFName.of('ColorSpace'), space);
  const resources = scratch.obj({ XObject: { Grid: objects.add(picture) } });
  const content = objects.add(objects.stream(`${SIDE} 0 0 ${SIDE} 0 0 cm /Grid Do`));
  const page = scratch.obj({ Type: 'Page', MediaBox: [0, 0, SIDE, SIDE], Resources: resources, Contents: content });
  const pageRef = objects.add(page);
  const pages = objects.add(scratch.obj({ Type: 'Pages', Kids: [pageRef], Count: 1 }));
  page.set(PDFName.of('Parent'), pages);
  const root = objects.add(scratch.obj({ Type: 'Catalog', Pages: pages }));
  const file = writeFile(
    [...substitutes].sort(([a], [b]) => a.objectNumber - b.objectNumber),
    root,
  );
  return withDocument(file, async (document) => {
    const drawing = (await createCanvasForPage(SIDE, SIDE)).getContext('2d');
    const shown = await document.getPage(1);
    await shown.render({
      canvas: null,
      canvasContext: drawing as unknown as CanvasRenderingContext2D,
      viewport: shown.getViewport({ scale: 1 }),
      intent: 'print',
    }).promise;
    const { data } = drawing.getImageData(0, 0, SIDE, SIDE);
    const rgb = new Uint8Array(SIDE * SIDE * 3);
    for (let from = 0, to = 0; to < rgb.length; from += 4, to += 3) {
      rgb[to] = data[from]!;
      rgb[to + 1] = data[from + 1]!;
      rgb[to + 2] = data[from + 2]!;
    }
    return inkTable(rgb);
  });
}
