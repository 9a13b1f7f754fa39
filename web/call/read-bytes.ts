import { read } from './call.ts';
import { Trouble, troubleIn } from './trouble.ts';

/** The exact bytes of an answer, for whoever hashes them. @throws {Trouble} as `call` */
export async function readBytes(path: string, signal?: AbortSignal): Promise<Uint8Array<ArrayBuffer>> {
  let answer = await ask(path, signal);
  if (answer.status === 401) {
    // Asks for the password, over whatever is being done.
    await read('/api/me', signal);
    answer = await ask(path, signal);
  }
  if (!answer.ok) throw await troubleIn(answer);
  return new Uint8Array(await answer.arrayBuffer());
}

async function ask(path: string, signal?: AbortSignal): Promise<Response> {
  try {
    return await fetch(path, { credentials: 'same-origin', ...(signal === undefined ? {} : { signal }) });
  } catch (error) {
    if (signal?.aborted === true) throw error;
    throw new Trouble('unreachable', 'The service cannot be reached.');
  }
}
