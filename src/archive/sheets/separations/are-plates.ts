import type { SentFile } from '../../catalogue/index.ts';
import type { BookPage } from '../../files/book-pages.ts';
import type { Archive } from '../../open-archive.ts';
import { platesFormOfBlob } from './plates-form.ts';

/** Whether the pages of a file are TIFF plates that were not put together yet, so that there is no page to be seen. */
export async function arePlates(
  { blobs }: Pick<Archive, 'blobs'>,
  { kind, sha256 }: SentFile,
  pages: readonly BookPage[],
): Promise<boolean> {
  if (kind !== 'plates-input' || pages.every((page) => page.sha256 !== sha256)) return false;
  return (await platesFormOfBlob(blobs, sha256)) !== 'neither';
}
