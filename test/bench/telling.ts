import { availableParallelism, cpus, loadavg } from 'node:os';
import type { MeasuredRun } from './measured-run.ts';

/** A figure with the most that it may be. */
export interface Target {
  readonly name: string;
  readonly value: number;
  readonly most: number;
  /** Empty for a ratio; a figure of these and of seconds has two decimals. */
  readonly unit: string;
}

/** The middle one; of an even number the upper of the two. */
export function median(all: readonly number[]): number {
  return [...all].sort((a, b) => a - b)[all.length >> 1]!;
}

/** What every figure has to be read with. */
export function tellMachine(): void {
  const load = loadavg()[0]!.toFixed(2);
  console.log(`${cpus()[0]?.model.trim()}, ${availableParallelism()} cores, load ${load}, Node ${process.version}`);
}

/** A line on runs of one command. */
export function tellRuns(name: string, all: readonly MeasuredRun[]): void {
  const wall = all.map(({ wallS }) => wallS);
  console.log(
    `${name.padEnd(34)} wall ${median(wall).toFixed(2)} s (${Math.min(...wall).toFixed(2)} to ${Math.max(...wall).toFixed(2)})` +
      `  cpu ${median(all.map(({ cpuS }) => cpuS)).toFixed(2)} s`,
  );
}

/** A line on each figure; whether all are reached. */
export function tellTargets(targets: readonly Target[]): boolean {
  for (const { name, value, most, unit } of targets) {
    const figure = unit === '' || unit === ' s' ? value.toFixed(2) : value.toFixed(0);
    console.log(`${name}: ${figure}${unit} (at most ${most}${unit}): ${value <= most ? 'reached' : 'NOT reached'}`);
  }
  return targets.every(({ value, most }) => value <= most);
}
