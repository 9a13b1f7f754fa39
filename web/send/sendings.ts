import { call } from '../call/call.ts';
import { keep, readKept } from './kept-sendings.ts';
import { isSameFile } from './sending.ts';
import type { Sending, SendingState, ToldOfFile } from './sending.ts';
import { beginTransfer } from './transfer.ts';
import type { Transfer } from './transfer.ts';

/** So many parts are sent to at the same time. */
const AT_ONCE = 2;
/** What stands still because the line is gone is tried again so often. */
const AGAIN_MS = 4000;

const IN_HAND: readonly SendingState[] = ['sending', 'interrupted'];

let all: readonly Sending[] = readKept();
const files = new Map<string, File>();
const transfers = new Map<string, Transfer>();
const listeners = new Set<() => void>();

/** Everything on its way, whichever view is shown. */
export function sendings(): readonly Sending[] {
  return all;
}

/** Hears when that changes. @returns how to stop hearing */
export function onSendings(listener: () => void): () => void {
  listeners.add(listener);
  return () => void listeners.delete(listener);
}

/** Sends files to a part. */
export function send(
  to: { readonly titleId: string; readonly partId: string },
  chosen: readonly { readonly file: File; readonly told: ToldOfFile }[],
): void {
  for (const { file, told } of chosen) {
    const id = crypto.randomUUID();
    files.set(id, file);
    const { name, size, lastModified } = file;
    const own = { id, ...to, ...told, name, bytes: size, modifiedMs: lastModified };
    const fresh = { state: 'waiting', sent: 0, perSecond: 0, url: null, fileId: null, error: null } as const;
    change([...all, { ...own, ...fresh }]);
  }
  pump();
}

/** Goes on with what was begun before the page was loaded. @returns false where this file was not begun for the part */
export function attachAgain(partId: string, file: File): boolean {
  const found = all.find((one) => one.partId === partId && one.state === 'unattached' && isSameFile(one, file));
  if (found === undefined) return false;
  files.set(found.id, file);
  update(found.id, { state: 'waiting' });
  pump();
  return true;
}

/** Stops for now; what arrived stays. */
export function pause(id: string): void {
  void transfers.get(id)?.stop();
  transfers.delete(id);
  update(id, { state: 'paused', perSecond: 0 });
  pump();
}

/** Goes on after a pause or a break. */
export function goOn(id: string): void {
  update(id, { state: 'waiting' });
  pump();
}

/** Gives a file up: what arrived of it is thrown away at the service too. One that is there is only put away here. */
export function giveUp(id: string): void {
  const found = all.find((one) => one.id === id);
  void transfers.get(id)?.stop();
  transfers.delete(id);
  files.delete(id);
  change(all.filter((one) => one.id !== id));
  if (found?.url != null && found.state !== 'arrived') {
    // The service throws away by itself what nobody goes on with.
    call('DELETE', new URL(found.url, location.href).pathname, { headers: { 'Tus-Resumable': '1.0.0' } }).catch(
      () => undefined,
    );
  }
  pump();
}

/** To one part they go one after the other: their order of arrival counts. */
function pump(): void {
  for (const one of all) {
    if (transfers.size >= AT_ONCE) return;
    const file = files.get(one.id);
    if (one.state !== 'waiting' || file === undefined) continue;
    const isBusy = all.some(({ partId, state }) => partId === one.partId && IN_HAND.includes(state));
    if (isBusy) continue;
    update(one.id, { state: 'sending' });
    transfers.set(
      one.id,
      beginTransfer(one, file, (told) => hear(one.id, told)),
    );
  }
}

function hear(id: string, told: Partial<Sending>): void {
  const isOver = told.state !== undefined && told.state !== 'sending';
  if (isOver) transfers.delete(id);
  update(id, told);
  if (told.state === 'arrived') files.delete(id);
  if (told.state === 'interrupted') window.setTimeout(() => tryAgain(id), AGAIN_MS);
  if (isOver) pump();
}

function tryAgain(id: string): void {
  if (all.find((one) => one.id === id)?.state === 'interrupted') goOn(id);
}

function update(id: string, told: Partial<Sending>): void {
  change(all.map((one) => (one.id === id ? { ...one, ...told } : one)));
}

function change(next: readonly Sending[]): void {
  all = next;
  keep(all);
  for (const listener of listeners) listener();
}

window.addEventListener('online', () => all.forEach(({ id }) => tryAgain(id)));
window.addEventListener('beforeunload', (event) => {
  // What is under way can be gone on with, but only by choosing the same file again.
  if (all.some(({ state }) => ['sending', 'waiting', 'interrupted'].includes(state))) event.preventDefault();
});
