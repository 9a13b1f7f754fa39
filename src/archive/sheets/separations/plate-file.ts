import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { Refusal } from '../../../model/index.ts';
import { fileIdentity } from '../../../reading/pool/index.ts';
import type { ReadingTools } from '../../read-file.ts';
import { runJob } from '../../read-file.ts';

/** A plate that is a file of its own, on the disk or in a ZIP. */
export interface PlateFile {
  /** How people know it, with the folders that tell it from others, `/` between. */
  readonly name: string;
  /** Lends it for as long as `use` runs; one in a ZIP is unpacked for that long. */
  lend<T>(this: void, use: (lent: LentPlate) => Promise<T>): Promise<T>;
}

/** A plate on the disk. */
export interface LentPlate {
  readonly path: string;
  readonly sha256: string;
  readonly bytes: number;
}

const BYTES_A_SHARE = 2 ** 28;

/** A plate that lies on the disk as it is. */
export function plateOnDisk(path: string, name: string): PlateFile {
  return { name, lend: async (use) => use({ path, ...(await fileIdentity(path)) }) };
}

/**
 * The plates in a ZIP, in the order of their names. Only as many as there are workers are unpacked at a time.
 *
 * @param scratch  a folder for what is unpacked
 * @throws {Refusal} unreadable: a damaged ZIP, or one without a plate; malformed, too-large: as `listPlates`
 */
export async function platesInZip(
  path: string,
  { name, scratch }: { readonly name: string; readonly scratch: string },
  tools: ReadingTools,
): Promise<readonly PlateFile[]> {
  const { limits, pool } = tools;
  const members = await runJob(tools, { do: 'zip', path, name, limits });
  if (members.length === 0) throw new Refusal('unreadable', { file: name, reason: 'there is no TIFF in this ZIP' });
  const inTurn = atMost(pool.size);
  return members.map((member, index): PlateFile => ({
    name: member.name,
    lend: (use) =>
      inTurn(async () => {
        const to = join(scratch, `unpacked-${index + 1}`);
        try {
          const sha256 = await runJob(tools, { do: 'unpack', path, member, to }, 1 + member.bytes / BYTES_A_SHARE);
          return await use({ path: to, sha256, bytes: member.bytes });
        } finally {
          await rm(to, { force: true });
        }
      }),
  }));
}

/** Lets so many work at a time; the others wait their turn. */
function atMost(most: number): <T>(work: () => Promise<T>) => Promise<T> {
  const waiting: (() => void)[] = [];
  let free = most;
  return async (work) => {
    if (free > 0) free -= 1;
    else await new Promise<void>((go) => void waiting.push(go));
    try {
      return await work();
    } finally {
      const next = waiting.shift();
      if (next === undefined) free += 1;
      else next();
    }
  };
}
