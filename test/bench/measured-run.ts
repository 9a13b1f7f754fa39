import { spawn } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';

/** What a command cost, with all processes that it started. */
export interface MeasuredRun {
  readonly wallS: number;
  /** User and system time of the command and its children that it waited for. */
  readonly cpuS: number;
  /** Largest sum of proportional set sizes seen (looked at 20 times a second); 0 where nobody looked. */
  readonly peakMb: number;
  readonly exitStatus: number;
}

const LOOK_EVERY_MS = 50;

/**
 * Runs a command to its end and measures it from outside. Linux only: it reads /proc.
 *
 * @param looking  at memory, which holds the command up: the system stops a process while its pages are counted
 */
export async function measureRun(
  command: string,
  args: readonly string[],
  cwd: string,
  looking = false,
): Promise<MeasuredRun> {
  const before = process.hrtime.bigint();
  const cpuBefore = childrenCpuS();
  const child = spawn(command, args, { cwd, stdio: ['ignore', 'ignore', 'ignore'] });
  let peak = 0;
  const look = setInterval(() => {
    if (looking) peak = Math.max(peak, treeMb(child.pid ?? 0));
  }, LOOK_EVERY_MS);
  const exitStatus = await new Promise<number>((resolve, reject) => {
    child.once('error', reject);
    child.once('exit', (code) => resolve(code ?? -1));
  });
  clearInterval(look);
  const wallS = Number(process.hrtime.bigint() - before) / 1e9;
  return { wallS, cpuS: childrenCpuS() - cpuBefore, peakMb: peak, exitStatus };
}

/** User and system time of all children waited for so far: fields 16 and 17 of /proc/self/stat, in hundredths. */
function childrenCpuS(): number {
  const fields = readFileSync('/proc/self/stat', 'latin1').split(') ')[1]!.split(' ');
  return (Number(fields[13]) + Number(fields[14])) / 100;
}

/** A process and all that it started, as far as they live, with the fields of their state from the third on. */
function processTree(root: number): ReadonlyMap<number, readonly string[]> {
  const all = new Map<number, readonly string[]>();
  for (const name of readdirSync('/proc')) {
    if (!/^\d+$/.test(name)) continue;
    try {
      all.set(Number(name), readFileSync(`/proc/${name}/stat`, 'latin1').split(') ')[1]!.split(' '));
    } catch {
      // gone meanwhile
    }
  }
  const within = (pid: number): boolean => {
    for (let at = pid; at > 1; at = Number(all.get(at)?.[1] ?? 0)) if (at === root) return true;
    return false;
  };
  return new Map([...all].filter(([pid]) => within(pid)));
}

/** Processor time of a process, of all that it started and of those that ended: fields 14 to 17, in hundredths. */
export function treeCpuS(root: number): number {
  let sum = 0;
  for (const fields of processTree(root).values()) for (const ticks of fields.slice(11, 15)) sum += Number(ticks) / 100;
  return sum;
}

/** Processor time of one process alone. */
export function ownCpuS(pid: number): number {
  const fields = readFileSync(`/proc/${pid}/stat`, 'latin1').split(') ')[1]!.split(' ');
  return (Number(fields[11]) + Number(fields[12])) / 100;
}

function treeMb(root: number): number {
  let sum = 0;
  for (const pid of processTree(root).keys()) {
    try {
      const pss = /^Pss:\s+(\d+)/m.exec(readFileSync(`/proc/${pid}/smaps_rollup`, 'latin1'));
      sum += Number(pss?.[1] ?? 0) / 1024;
    } catch {
      // gone meanwhile
    }
  }
  return sum;
}
