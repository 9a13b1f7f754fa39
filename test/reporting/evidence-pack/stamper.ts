import { openAuthority } from '../../standards/sealing/authority.ts';
import { openDesk, type Desk } from '../../standards/sealing/openssl.ts';
import type { Play } from './dispute.ts';

/** A time-stamp authority of OpenSSL, as if it were reached over HTTP. */
export function openStamper(): { readonly authority: NonNullable<Play['authority']>; readonly desk: Desk } {
  const desk = openDesk();
  const { root, answer } = openAuthority(desk);
  const fetch: typeof globalThis.fetch = async (_url, request) => {
    const bytes = new Uint8Array(await new Response(request?.body ?? '').arrayBuffer());
    return new Response(new Uint8Array(answer(bytes)));
  };
  return { desk, authority: { trusted: [root], fetch } };
}
