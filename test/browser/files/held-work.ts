import { readdirSync, readFileSync } from 'node:fs';
import { readEvents } from '../../service/event-reader.ts';
import { desk } from './desk.ts';

/**
 * Listens until the first findings of a comparison are told, and holds the processes that read and compare pages right
 * there: pages are handed to them from this process, so that few more are done by then however slow the machine is.
 * Linux only: it reads /proc.
 *
 * @returns lets them go on
 */
export async function holdAtFirstFindings(): Promise<{ letGo(): void }> {
  const { origin, guest, ids } = desk.service;
  const isFound = ({ event, data }: { event: string; data: Readonly<Record<string, unknown>> }): boolean =>
    event === 'findings' && data.file !== null;
  const heard = await readEvents(`${origin}/api/titles/${ids.title}/events`, { Cookie: guest.cookie }, isFound);
  if (heard === null) throw new Error('the line ended before anything was found');
  const workers = pageWorkers();
  if (workers.length === 0) throw new Error('no process is at work');
  for (const pid of workers) process.kill(pid, 'SIGSTOP');
  return {
    letGo: () => {
      for (const pid of workers) process.kill(pid, 'SIGCONT');
    },
  };
}

/** Children of this process that work on pages. */
function pageWorkers(): readonly number[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .filter((name) => {
      try {
        const parent = readFileSync(`/proc/${name}/stat`, 'latin1').split(') ').at(-1)?.split(' ')[1];
        return (
          Number(parent) === process.pid && readFileSync(`/proc/${name}/cmdline`, 'latin1').includes('page-worker')
        );
      } catch {
        // it ended in the meantime
        return false;
      }
    })
    .map(Number);
}
