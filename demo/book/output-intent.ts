import { readFile } from 'node:fs/promises';
import sharp from 'sharp';
import type { Preparation } from './preparation.ts';

/** The ICC profile that a preparation's inks were made with. */
export async function inkProfileOf(how: Preparation): Promise<Buffer> {
  if (how.inkProfile !== undefined) return readFile(how.inkProfile);
  const dot = sharp({ create: { width: 1, height: 1, channels: 3, background: 'white' } });
  const { icc } = await sharp(await dot.toColourspace('cmyk').withIccProfile('cmyk').jpeg().toBuffer()).metadata();
  if (icc === undefined) throw new Error('the image library gave no profile for its inks');
  return icc;
}

/** Names the printing condition in the file. @source ISO 32000-2 14.11.5 */
export function addOutputIntent(doc: PDFKit.PDFDocument, profile: Buffer): void {
  const data = doc.ref({ N: 4 });
  data.end(profile);
  const intent = doc.ref({
    Type: 'OutputIntent',
    S: 'GTS_PDFX',
    OutputConditionIdentifier: new String('Custom'),
    Info: new String('Inks of the image library'),
    DestOutputProfile: data,
  });
  intent.end('');
  const root = (doc as unknown as { _root: PDFKit.PDFKitReference })._root;
  Object.assign(root.data, { OutputIntents: [intent] });
}
