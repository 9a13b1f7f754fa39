import { createHash } from 'node:crypto';

/** One file of a pack: made in memory, or streamed from a blob whose hash is its name. */
export type Member =
  | { readonly name: string; readonly sha256: string; readonly bytes: Uint8Array }
  | { readonly name: string; readonly sha256: string; readonly blob: string; readonly size: number };

/** A member of these bytes or this text. */
export function memberOf(name: string, content: Uint8Array | string): Member {
  const bytes = typeof content === 'string' ? new TextEncoder().encode(content) : content;
  return { name, bytes, sha256: createHash('sha256').update(bytes).digest('hex') };
}

/** The list of members as `sha256sum` writes it, by name. @source common practice, no source: the text form of `sha256sum` */
export function listMembers(members: readonly Member[]): string {
  const sorted = [...members].sort((one, other) => (one.name < other.name ? -1 : 1));
  return sorted.map(({ name, sha256 }) => `${sha256}  ${name}\n`).join('');
}
