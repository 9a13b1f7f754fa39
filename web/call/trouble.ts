import { PROBLEM_KINDS } from './answers.ts';
import type { ProblemKind } from './answers.ts';

/** What can go wrong with a call: a kind of problem that the service names, or that it could not be reached. */
export type TroubleKind = ProblemKind | 'unreachable';

/** The one error of every call. `members` is what a problem tells beside its words, such as `/pointer` or `/limit`. */
export class Trouble extends Error {
  override readonly name = 'Trouble';
  readonly kind: TroubleKind;
  readonly status: number;
  readonly members: Readonly<Record<string, unknown>>;

  constructor(kind: TroubleKind, detail: string, status = 0, members: Readonly<Record<string, unknown>> = {}) {
    super(detail);
    this.kind = kind;
    this.status = status;
    this.members = members;
  }
}

/** Whatever was thrown, as trouble; a bug of a page is a fault. */
export function troubleOf(error: unknown): Trouble {
  if (error instanceof Trouble) return error;
  return new Trouble('fault', error instanceof Error ? error.message : String(error));
}

/** An answer that is a problem, as trouble. @source RFC 9457 3 */
export async function troubleIn(answer: Response): Promise<Trouble> {
  const told: unknown = await answer.json().catch(() => null);
  const members = typeof told === 'object' && told !== null ? (told as Readonly<Record<string, unknown>>) : {};
  const name = typeof members.type === 'string' ? members.type.split('/').at(-1) : undefined;
  const kind = PROBLEM_KINDS.find((known) => known === name) ?? 'fault';
  const detail = typeof members.detail === 'string' ? members.detail : answer.statusText;
  return new Trouble(kind, detail, answer.status, members);
}
