import { Refusal, type RefusalDetails, type RefusalKind } from '../../model/index.ts';

/** What goes to a worker: a job, or that it has none for a while. */
export type ToWorker = { readonly id: number; readonly job: unknown } | { readonly rest: true };

/** An error as it crosses to the other process. */
export type WireError =
  | { readonly refusal: RefusalKind; readonly details: RefusalDetails[RefusalKind] }
  | { readonly message: string; readonly stack?: string };

/** What comes from a worker: that it is ready or rests, an answer, or that it had to stop for want of memory. */
export type FromWorker =
  | { readonly ready: true }
  | { readonly rested: true; readonly residentMb: number }
  | { readonly id: number; readonly result: unknown; readonly residentMb: number }
  | { readonly id: number; readonly error: WireError; readonly residentMb: number }
  | { readonly overMb: number };

/** An error in a form that survives the way: refusals whole, of anything else the message and the trace. */
export function packError(error: unknown): WireError {
  if (error instanceof Refusal) {
    const refusal = error as Refusal;
    return { refusal: refusal.kind, details: refusal.details };
  }
  if (!(error instanceof Error)) return { message: String(error) };
  return error.stack === undefined ? { message: error.message } : { message: error.message, stack: error.stack };
}

/** The error as the caller gets it; a worker's trace is kept under the caller's own. */
export function unpackError(wire: WireError): Error {
  if ('refusal' in wire) return new Refusal(wire.refusal, wire.details);
  const error = new Error(wire.message);
  if (wire.stack !== undefined) error.stack = wire.stack;
  return error;
}
