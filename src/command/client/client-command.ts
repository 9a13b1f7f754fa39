import type { Desk } from '../desk.ts';
import type { Asking } from './asking.ts';

/** One option of a command: `--out FILE`, or a switch where it takes nothing. */
export interface ClientOption {
  /** What stands after it, in capitals; null for a switch. */
  readonly takes: string | null;
  readonly says: string;
  readonly needed?: boolean;
}

/** What was typed after a command's words, each option by its name without dashes. */
export interface Given {
  readonly operands: readonly string[];
  /** The text of an option, or null where it was not given. */
  text(option: string): string | null;
  isSet(option: string): boolean;
}

/** What a command works with; everything that touches the machine is handed in. */
export interface ClientTools {
  readonly desk: Desk;
  readonly asking: Asking;
  readonly env: Readonly<Record<string, string | undefined>>;
  /** Milliseconds since 1970. */
  readonly today: () => number;
  readonly fetch: typeof fetch;
  /** Aborted when the person stops the program. */
  readonly stop: AbortSignal;
}

/** A command for keys or for an archive that is reached over the network. */
export interface ClientCommand {
  /** As it is typed: `key new`. */
  readonly words: string;
  /** Operands, in capitals; the last one with “…” is one or more. */
  readonly operands: readonly string[];
  readonly says: string;
  readonly options: Readonly<Record<string, ClientOption>>;
  /** @returns the exit status */
  run(given: Given, tools: ClientTools): Promise<number>;
}

/** An option that must be there; `readGiven` has seen to it. */
export function textOf(given: Given, option: string): string {
  return given.text(option) ?? '';
}
