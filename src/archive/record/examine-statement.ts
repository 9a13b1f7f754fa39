import { failedChecks, Refusal, type LogSubject } from '../../model/index.ts';
import { checkStatement, formatInstant, sha256Hex } from '../../sealing/index.ts';
import type { KeptStatement, LogEntry, Tables } from '../catalogue/index.ts';
import { saidIn } from '../statements/kept-statement.ts';

/** The root of the log's tree at a size, in hexadecimal, made from its entries. */
export type RootAt = (size: number) => string | undefined;

/**
 * What does not hold of the statement that an entry names: that it is kept, byte for byte with its signature; that the
 * signature holds under the certificate that is kept; that the head which it names is one of this log.
 *
 * @param named  the subjects of the entry
 * @returns in words, one a fault
 */
export async function faultsOfStatement(
  tables: Tables,
  { index }: Pick<LogEntry, 'index'>,
  named: readonly LogSubject[],
  rootAt: RootAt,
): Promise<readonly string[]> {
  const hashOf = (what: string): string => named.find((one) => one.what === what)?.sha256 ?? '';
  const kept = await tables.statements.get(hashOf('statement'));
  if (kept?.logIndex !== index) return [`the statement of entry ${index} is missing`];
  const found = [await sha256Hex(kept.bytes), await sha256Hex(kept.signature)].join();
  if (found !== [hashOf('statement'), hashOf('signature')].join())
    return [`the statement of entry ${index} is another`];
  return [...(await faultsOfSeal(tables, kept)), ...(await faultsOfHead(tables, kept, rootAt))];
}

/** As it held when it came: a revocation since then does not undo it. */
async function faultsOfSeal(
  tables: Tables,
  { logIndex, certificate, ...kept }: KeptStatement,
): Promise<readonly string[]> {
  const signer = await tables.certificates.get(certificate);
  if (signer === null) return [`the certificate of the statement of entry ${logIndex} is missing`];
  try {
    const { checks } = await checkStatement({
      content: kept.bytes,
      seal: kept.signature,
      pinned: [{ certificate: signer.der }],
      receivedAt: formatInstant(new Date(kept.atMs)),
    });
    return failedChecks(checks).map(({ name }) => `the signature of the statement of entry ${logIndex} fails: ${name}`);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return [`the statement of entry ${logIndex} cannot be read: ${error.message}`];
  }
}

async function faultsOfHead(tables: Tables, kept: KeptStatement, rootAt: RootAt): Promise<readonly string[]> {
  const { size, root } = saidIn(kept).head;
  const named = `head ${size}, which the statement of entry ${kept.logIndex} names,`;
  if (rootAt(size) !== root) return [`${named} is none of this log`];
  return (await tables.log.checkpoint(size)) === null ? [`${named} is missing`] : [];
}
