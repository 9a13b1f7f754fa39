import { createHash } from 'node:crypto';

/** A stream of these pieces. */
export async function* pieces(...texts: readonly (string | Uint8Array)[]): AsyncGenerator<Uint8Array> {
  for (const text of texts) yield typeof text === 'string' ? new TextEncoder().encode(text) : text;
}

/** SHA-256 in hexadecimal. */
export function sha256Of(bytes: string | Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

/** All that a stream gives, as text. */
export async function textOfStream(stream: AsyncIterable<Uint8Array>): Promise<string> {
  const all: Uint8Array[] = [];
  for await (const piece of stream) all.push(piece);
  return Buffer.concat(all).toString();
}
