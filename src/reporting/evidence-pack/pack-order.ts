import type { PackScope } from '../../evidence/index.ts';

/** What evidence somebody wants. */
export interface PackOrder {
  readonly titleId: string;
  /** The whole title, one part of it, or one page of a dummy. */
  readonly scope: PackScope;
  /** The files themselves, or only their hashes. */
  readonly contents: 'files' | 'hashes';
  /** Sizes of heads that the asker remembers: the pack proves that the log continues them. */
  readonly seenSizes?: readonly number[];
  /** Certificates in DER of the authorities whose time-stamps the operator trusts. */
  readonly authorities?: readonly Uint8Array[];
}
