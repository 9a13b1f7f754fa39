import { readFileSync } from 'node:fs';

/** R read in a copy of the source, M from memory, P common practice, D derived here by two independent programs. */
type Basis = 'R' | 'M' | 'P' | 'D';

/** One published value: what it says, where it stands, how we know, what goes in and what must come out. */
export interface Probe<Given, Expected> {
  readonly says: string;
  readonly source: string;
  readonly basis: Basis;
  readonly given: Given;
  readonly expected: Expected;
}

/** Probes of one file; the caller names the shape of `given` and `expected`. */
export function readProbes<Given, Expected>(file: URL): readonly Probe<Given, Expected>[] {
  return JSON.parse(readFileSync(file, 'utf8')) as readonly Probe<Given, Expected>[];
}

/** The name of a probe's test: what it says, and the source it rests on. */
export function nameOf(probe: Probe<unknown, unknown>): string {
  return `${probe.says} (${probe.basis}: ${probe.source})`;
}
