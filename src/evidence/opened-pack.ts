/** A pack that is open, wherever it lies: in a ZIP, in a folder, or dropped on a page. */
export interface OpenedPack {
  /** Of every file in it, sorted. */
  readonly names: readonly string[];
  /**
   * SHA-256 of the bytes of one, however large, in hexadecimal.
   *
   * @throws {Refusal} unreadable: its bytes cannot be got at
   * @throws {Refusal} too-large: more than can be hashed here
   */
  hash(this: void, name: string): Promise<string>;
  /**
   * The bytes of a small one.
   *
   * @throws {Refusal} not-found: there is none
   * @throws {Refusal} too-large: more than 64 MB
   */
  read(this: void, name: string): Promise<Uint8Array>;
}
