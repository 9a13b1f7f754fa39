import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { plateSets } from '../../../plates/index.ts';
import type { KeptPage } from '../../catalogue/index.ts';
import type { ReadingTools } from '../../read-file.ts';
import { headerOf, sizeOf } from './find-plates.ts';
import { plateFiles } from './plate-files.ts';

/**
 * What the catalogue keeps of a file of plates: one page for each TIFF, by name, with the hash of its bytes for content.
 * Whether they can be put together is found out too, so that whoever sent them hears of it at once.
 *
 * @param name  of the file as it was sent
 * @throws {Refusal} unreadable, too-large: a plate, or the ZIP of them; malformed: as `plateSets`
 */
export async function describePlates(
  tools: ReadingTools,
  { path, name }: { readonly path: string; readonly name: string },
  onPlates: (done: number, total: number) => void,
): Promise<readonly KeptPage[]> {
  const scratch = await mkdtemp(join(tmpdir(), 'witnessleaf-'));
  try {
    const { plates } = (await plateFiles({ paths: [path], name }, tools, scratch))!;
    const facts = await Promise.all(
      plates.map(async (plate) => {
        const found = { file: plate.name, ...(await headerOf(plate, tools)) };
        onPlates(1, plates.length);
        return found;
      }),
    );
    plateSets(
      facts.flatMap(({ file, header }) =>
        'composite' in header ? [] : [{ file, inkName: header.inkName, setName: null, ...sizeOf(header) }],
      ),
    );
    return facts.map(({ sha256, header }, index): KeptPage => {
      const { width, height } = sizeOf(header);
      return { pageNumber: index + 1, contentHash: sha256, widthMm: width, heightMm: height };
    });
  } finally {
    await rm(scratch, { recursive: true, force: true });
  }
}
