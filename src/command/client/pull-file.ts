import { createWriteStream } from 'node:fs';
import { rename, rm } from 'node:fs/promises';
import { resolve } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { ArchiveClient } from './ask-server.ts';
import type { ClientTools } from './client-command.ts';

/**
 * Pulls what a path of the archive answers into a file that is whole or not there, and prints where it lies.
 *
 * @param name  of the file, as it was typed
 * @throws {Refusal} as `askServer`
 */
export async function pullInto(
  client: ArchiveClient,
  path: string,
  name: string,
  { desk }: ClientTools,
): Promise<void> {
  const whole = resolve(desk.folder, name);
  const fresh = `${whole}.arriving`;
  try {
    const bytes = await client.stream(path);
    await pipeline(Readable.fromWeb(bytes as Parameters<typeof Readable.fromWeb>[0]), createWriteStream(fresh));
    await rename(fresh, whole);
  } finally {
    await rm(fresh, { force: true });
  }
  desk.out.write(`${whole}\n`);
}
