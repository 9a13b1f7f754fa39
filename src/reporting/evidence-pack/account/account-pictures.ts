import sharp from 'sharp';
import { Refusal } from '../../../model/index.ts';
import type { Account } from './section.ts';

/** A picture for paper. */
export interface PaperPicture {
  readonly jpeg: Uint8Array;
  readonly width: number;
  readonly height: number;
}

/** More than any page drawn for people has. */
const MOST_PIXELS = 40_000_000;
/** Long side: about 300 pixels an inch at the size at which it is printed. */
const PRINTED_PX = 760;

/** The members that an account shows. */
function picturesOf({ sections }: Account): readonly string[] {
  return sections
    .flatMap(({ blocks }) => blocks)
    .flatMap((block) => (block.kind === 'pictures' ? block.pictures.map(({ member }) => member) : []));
}

/**
 * Reads the pictures that an account shows, for paper. The same bytes give the same bytes.
 *
 * @throws {Refusal} unreadable: one is no picture
 */
export async function readPictures(
  account: Account,
  read: (member: string) => Promise<Uint8Array>,
): Promise<ReadonlyMap<string, PaperPicture>> {
  const pictures = new Map<string, PaperPicture>();
  for (const member of picturesOf(account)) {
    if (!pictures.has(member)) pictures.set(member, await forPaper(member, await read(member)));
  }
  return pictures;
}

async function forPaper(member: string, bytes: Uint8Array): Promise<PaperPicture> {
  try {
    const { data, info } = await sharp(bytes, { limitInputPixels: MOST_PIXELS })
      .resize(PRINTED_PX, PRINTED_PX, { fit: 'inside', withoutEnlargement: true })
      .flatten({ background: '#ffffff' })
      .jpeg({ quality: 82, chromaSubsampling: '4:4:4' })
      .toBuffer({ resolveWithObject: true });
    return { jpeg: data, width: info.width, height: info.height };
  } catch (cause) {
    throw new Refusal('unreadable', { file: member, reason: 'it is not a picture' }, cause);
  }
}
