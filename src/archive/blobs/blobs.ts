/** What was kept: its name, its size, and whether it is here for the first time. */
export interface KeptBlob {
  /** Of its bytes, lower-case hexadecimal. */
  readonly sha256: string;
  readonly bytes: number;
  readonly isNew: boolean;
}

/** What a put may ask for. */
export interface PutTerms {
  /** The hash that the sender announced; other bytes are refused and not kept. */
  readonly sha256?: string;
  /** More is refused while it arrives. */
  readonly mostBytes?: number;
}

/** A stretch of a blob: bytes `first` to `last`, both included, from 0. */
export interface ByteRange {
  readonly first: number;
  readonly last: number;
}

/** A blob as a list of them has it. */
export interface ListedBlob {
  readonly sha256: string;
  readonly bytes: number;
}

/** Bytes by their SHA-256, wherever they are kept. There is no way to delete or to overwrite one. */
export interface Blobs {
  /**
   * Keeps what streams in. When it returns, the bytes outlast a power cut; before, nobody sees them.
   *
   * @throws {Refusal} too-large: more than `mostBytes`
   * @throws {Refusal} unreadable: not the announced bytes
   * @throws {Refusal} unavailable: the disk is full or fails
   */
  put(stream: AsyncIterable<Uint8Array>, terms?: PutTerms): Promise<KeptBlob>;
  /**
   * Keeps a file of the same disk, which is there under its old name no longer: nothing is copied. It must be on disk
   * already, and whoever hands it in has hashed it.
   *
   * @throws {Refusal} unavailable: the disk fails
   */
  adopt(path: string, sha256: string): Promise<KeptBlob>;
  /** Bytes of a blob, or null where there is none; the bytes are not looked at. */
  sizeOf(sha256: string): Promise<number | null>;
  /**
   * A whole blob, checked while it is read: the last piece is only handed out when the hash holds.
   *
   * @throws {Refusal} not-found: there is no such blob
   * @throws {Refusal} unreadable: its bytes are no longer what its name says
   */
  read(sha256: string): AsyncIterable<Uint8Array>;
  /**
   * A stretch of a blob, unchecked: only the whole has a hash.
   *
   * @throws {Refusal} not-found: there is no such blob
   * @throws {Refusal} malformed: the stretch is not within it
   */
  readRange(sha256: string, range: ByteRange): AsyncIterable<Uint8Array>;
  /**
   * Lends a blob as a file on this machine, to be read only, for as long as `use` runs; checked before, one that has just
   * arrived while it did.
   *
   * @throws {Refusal} as `read`
   */
  lend<T>(sha256: string, use: (path: string) => Promise<T>): Promise<T>;
  /**
   * The same without checking it: for what nobody will rely on.
   *
   * @throws {Refusal} not-found: there is no such blob
   */
  lendUnchecked<T>(sha256: string, use: (path: string) => Promise<T>): Promise<T>;
  /** Every blob, by its name; what else lies there is no blob. */
  list(): AsyncIterable<ListedBlob>;
}
