import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { buffer } from 'node:stream/consumers';
import { describe, expect, it } from 'vitest';
import type { OpenedPack } from '../../../src/evidence/index.ts';
import { openZip } from '../../../src/reporting/evidence-pack/verify/open-zip.ts';
import { memberOf, type Member } from '../../../src/reporting/evidence-pack/member.ts';
import { zipMembers } from '../../../src/reporting/evidence-pack/zip-members.ts';
import { openDropped } from '../../../web/prove/open-dropped.ts';
import { scratchFolder } from '../../archive/scratch.ts';
import { hasTool } from '../../reading/pdf/outside-tool.ts';

const STREAMED = Buffer.from('bytes that come as a stream');
const blobs = {
  async *read() {
    yield await Promise.resolve(STREAMED);
  },
};

describe.skipIf(!hasTool('unzip', 'unzip'))('the ZIP of an evidence pack with one bit changed', () => {
  const file = join(scratchFolder(), 'pack.zip');
  const readAll = async (pack: OpenedPack): Promise<string> =>
    JSON.stringify(await Promise.all(pack.names.map(async (name) => [name, await pack.hash(name)])));
  const byCommand = async (): Promise<string> => {
    const pack = await openZip(file);
    return readAll(pack).finally(() => pack.close());
  };
  const inBrowser = async (bytes: Uint8Array<ArrayBuffer>): Promise<string> =>
    readAll(await openDropped(new Blob([bytes])));
  const byUnzip = (): string => spawnSync('unzip', ['-p', '-qq', file]).stdout.toString('base64');

  it('is read as before or refused, by the command and by the page, wherever `unzip` takes out anything else', async () => {
    const members: readonly Member[] = [
      memberOf('account/one.txt', 'one'),
      memberOf('verify.sh', '#!/bin/sh\n'),
      { name: 'files/two.pdf', blob: 'two', sha256: 'two', size: STREAMED.length },
    ];
    const zip = await buffer(zipMembers(members, blobs, Date.UTC(2026, 1, 1)));
    writeFileSync(file, zip);
    const [whole, unzipped] = [await byCommand(), byUnzip()];
    expect(await inBrowser(new Uint8Array(zip))).toBe(whole);
    const unnoticed: string[] = [];
    let taken = 0;
    for (let bit = 0; bit < zip.length * 8; bit += 1) {
      const bytes = new Uint8Array(zip);
      bytes[bit >> 3] = (bytes[bit >> 3] ?? 0) ^ (1 << (bit & 7));
      writeFileSync(file, bytes);
      const refused = (): undefined => undefined;
      const answers = [await byCommand().catch(refused), await inBrowser(bytes).catch(refused)];
      if (!answers.includes(whole)) continue;
      taken += 1;
      if (byUnzip() !== unzipped) unnoticed.push(`bit ${bit & 7} of byte ${bit >> 3}`);
    }
    expect(unnoticed).toEqual([]);
    // The time of a member, its rights: bits that change nothing of what is in it are many.
    expect(taken).toBeGreaterThan(100);
  }, 60_000);
});
