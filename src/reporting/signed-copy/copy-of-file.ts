import {
  headOf,
  partName,
  partState,
  requireFile,
  saidIn,
  signedFileOf,
  type Actor,
  type Archive,
  type Signature,
  type Tables,
} from '../../archive/index.ts';
import { Refusal, type SignedFile, type Statement } from '../../model/index.ts';
import { formatInstant } from '../../sealing/index.ts';
import type { Signatory, SignedCopyOrder } from './copy-order.ts';
import type { CopyMaker, MadeCopy } from './copy-maker.ts';

type Source = Pick<Archive, 'blobs' | 'catalogue' | 'identity'> & { readonly copies: CopyMaker };

/**
 * The signed copy of a dummy in force, out of what the archive has of it.
 *
 * @param at  milliseconds since 1970
 * @throws {Refusal} not-found: as `requireFile`
 * @throws {Refusal} out-of-step: it is not the dummy in force
 * @throws {Refusal} too-large, unavailable: the process that makes it took too long or too much, or died
 * @throws {Refusal} as `makeSignedCopy`
 */
export async function signedCopyOf(source: Source, actor: Actor, fileId: string, at: number): Promise<MadeCopy> {
  const tables = source.catalogue;
  const { title, part, file } = await requireFile(tables, actor, fileId);
  const dummy = (await partState(tables, part.id)).inForce;
  if (dummy?.file.id !== fileId) {
    throw new Refusal('out-of-step', { what: 'a signed copy', named: file.name, current: 'not the dummy in force' });
  }
  const signed = await Promise.all(dummy.signatures.map((signature) => signedBy(tables, signature)));
  const last = Math.max(...dummy.signatures.map(({ atMs }) => atMs));
  const order = {
    fileName: file.name,
    file: fileIn(signed[0]?.said),
    title: title.name,
    part: partName(part),
    at: formatInstant(new Date(at)),
    inForceSince: formatInstant(new Date(last)),
    signatories: signed.map(({ signatory }) => signatory),
    head: await stampedHead(source),
    certificate: source.identity.seal.certificate,
  };
  return source.copies.make(source.blobs, { copy: 'signed', order, blob: file.sha256, key: source.identity.seal });
}

/**
 * The print copy of a file: what goes to paper to be signed in ink.
 *
 * @param at  milliseconds since 1970
 * @throws {Refusal} not-found: as `requireFile`
 * @throws {Refusal} too-large, unavailable: as `signedCopyOf`
 * @throws {Refusal} as `signedFileOf` and `makePrintCopy`
 */
export async function printCopyOf(source: Source, actor: Actor, fileId: string, at: number): Promise<MadeCopy> {
  const { title, part, file } = await requireFile(source.catalogue, actor, fileId);
  const order = {
    fileName: file.name,
    file: await signedFileOf(source.catalogue, file),
    title: title.name,
    part: partName(part),
    at: formatInstant(new Date(at)),
  };
  return source.copies.make(source.blobs, { copy: 'print', order, blob: file.sha256, key: source.identity.seal });
}

async function signedBy(
  { statements }: Pick<Tables, 'statements'>,
  { statementId, logIndex }: Signature,
): Promise<{ readonly signatory: Signatory; readonly said: Statement }> {
  const kept = await statements.get(statementId);
  if (kept === null) throw new Error('a signature without its statement');
  const said = saidIn(kept);
  return { said, signatory: { ...said.signer, at: said.at, statement: said.id, logIndex } };
}

function fileIn(said: Statement | undefined): SignedFile {
  if (said?.kind === 'sign-off' || said?.kind === 'replacement') return said.subject.dummy;
  throw new Error('a dummy in force by a statement that signs none');
}

async function stampedHead({
  catalogue,
  identity,
}: Pick<Source, 'catalogue' | 'identity'>): Promise<SignedCopyOrder['head']> {
  const { origin, size, root } = await headOf(catalogue, identity);
  for (const one of await catalogue.timeStamps.ofHead(size)) {
    if (one.state !== 'held') continue;
    const timeStamp = { authority: one.authority, at: formatInstant(new Date(one.heldMs)) };
    return { origin, size, root, timeStamp };
  }
  return { origin, size, root };
}
