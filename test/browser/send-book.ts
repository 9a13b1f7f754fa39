import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { scratchFolder } from '../archive/scratch.ts';
import { writeBook, type SmallPage } from '../archive/small-book.ts';
import { readEvents } from '../service/event-reader.ts';
import { done, type PeopledService } from '../service/peopled-service.ts';

/** A book that is sent as a file, and how far the service is to come with it. */
export interface SentBook {
  readonly part: string;
  readonly pages: readonly SmallPage[];
  readonly kind: string;
  readonly until: 'read' | 'compared' | 'pictures';
  readonly name?: string;
  readonly remark?: string;
}

/** Sends a book past the pages and waits until the service has done so much with it. @returns the id of the file */
export async function sendBook(service: PeopledService, { pages, ...how }: SentBook): Promise<string> {
  return sendFile(service, await writeBook(join(scratchFolder(), 'book.pdf'), pages), how);
}

/** The same of a file that is there. */
export async function sendFile(
  { origin, printer, guest, ids }: PeopledService,
  file: string,
  { part, kind, until, name = 'book.pdf', remark = '' }: Omit<SentBook, 'pages'>,
): Promise<string> {
  const events = `${origin}/api/titles/${ids.title}/events`;
  const Cookie = guest.cookie;
  const before = (await readEvents(events, { Cookie }, () => true))?.[0]?.id ?? '';
  const bytes = await readFile(file);
  const digest = `sha-256=:${createHash('sha256').update(bytes).digest('base64')}:`;
  const path = `/api/parts/${part}/files/${encodeURIComponent(name)}?${new URLSearchParams({ kind, remark }).toString()}`;
  const sent = await done(printer.send('PUT', path, bytes, { 'Content-Digest': digest }), 201);
  const { id } = sent as { id: string };
  const isDone = ({ event, data }: { event: string; data: Readonly<Record<string, unknown>> }): boolean =>
    event === until && data.file === id;
  await readEvents(events, { Cookie, 'Last-Event-ID': before }, isDone);
  return id;
}
