import { z } from 'zod';
import { pageHashes } from '../../../archive/index.ts';
import {
  checked,
  fails,
  namesIn,
  signedFiles,
  unchecked,
  type EvidenceCheck,
  type Findings,
} from '../../../evidence/index.ts';
import { DEFAULT_LIMITS, Refusal, type SignedFile } from '../../../model/index.ts';
import type { PackOnDisk } from './pack-on-disk.ts';

/** Files that were signed page by page: each page's content is what the signature names, whatever the file's bytes are. */
export async function checkPages({ found, statements }: Findings, pack: PackOnDisk): Promise<readonly EvidenceCheck[]> {
  const signed = signedFiles(statements);
  const hashed = hashesIn(pack);
  const checks: EvidenceCheck[] = [];
  for (const name of namesIn(pack, 'files', '')) {
    const file = signed.get(found.get(name) ?? '');
    if (file !== undefined) checks.push(await pagesCheck(pack, name, file, hashed));
  }
  return checks;
}

type HashesOf = (name: string) => Promise<readonly (string | null)[]>;

async function pagesCheck(
  pack: PackOnDisk,
  name: string,
  { pages }: SignedFile,
  hashesOf: HashesOf,
): Promise<EvidenceCheck> {
  let hashed: readonly (string | null)[];
  try {
    hashed = name.endsWith('.json') ? await listedHashes(pack, name, hashesOf) : await hashesOf(name);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return unchecked(name, 'pages', `its pages cannot be read here: ${error.message}`);
  }
  if (hashed.length !== pages.length) return fails(name, 'pages', `${pages.length} pages`, `${hashed.length}`);
  const wrong = pages.flatMap((hash, index) => (hashed[index] === hash ? [] : [index + 1]));
  const found = `other content on page ${wrong.slice(0, 20).join(', ')}`;
  return checked(name, 'pages', wrong.length === 0, { expected: 'the content that was signed on each page', found });
}

/** The content hashes of a file of the pack; each file is read once. */
function hashesIn(pack: PackOnDisk): HashesOf {
  const known = new Map<string, Promise<readonly (string | null)[]>>();
  return (name) => {
    const hashes =
      known.get(name) ??
      pack.lend(name, async (path) => (await pageHashes(path, DEFAULT_LIMITS)).map(({ contentHash }) => contentHash));
    known.set(name, hashes);
    return hashes;
  };
}

const pageListForm = z.strictObject({
  format: z.literal('witnessleaf-pages/1'),
  pages: z.array(z.strictObject({ file: z.string().regex(/^[0-9a-f]{64}$/), page: z.int().min(1) })).max(100_000),
});

/**
 * The content hashes of a book that lies in several files, page by page as its list has them.
 *
 * @throws {Refusal} unreadable: it is no such list, or a file of it is not in the pack
 */
async function listedHashes(pack: PackOnDisk, name: string, hashesOf: HashesOf): Promise<readonly (string | null)[]> {
  const hashes: (string | null)[] = [];
  for (const { file, page } of listIn(await pack.read(name), name)) {
    const member = pack.names.find((one) => one.startsWith(`files/${file}.`));
    if (member === undefined) throw new Refusal('unreadable', { file: name, reason: `the pack is without ${file}` });
    hashes.push((await hashesOf(member))[page - 1] ?? null);
  }
  return hashes;
}

function listIn(bytes: Uint8Array, name: string): z.infer<typeof pageListForm>['pages'] {
  try {
    return pageListForm.parse(JSON.parse(new TextDecoder().decode(bytes))).pages;
  } catch (cause) {
    throw new Refusal('unreadable', { file: name, reason: 'it is no list of pages' }, cause);
  }
}
