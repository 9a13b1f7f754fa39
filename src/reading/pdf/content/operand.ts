/** A name in a content stream, without its slash, `#xx` undone, one character a byte. */
export interface ContentName {
  readonly kind: 'name';
  readonly name: string;
}

/** A string in a content stream, its escapes undone. */
export interface ContentString {
  readonly kind: 'string';
  readonly bytes: Uint8Array;
}

/** A word that stands where an operand should, and begins like a number: `--5`, `1.2.3`. */
export interface ContentWord {
  readonly kind: 'word';
  readonly text: string;
  /** As most programs read it. */
  readonly number: number;
}

/** A dictionary in a content stream. */
export interface ContentDict {
  readonly kind: 'dict';
  readonly entries: ReadonlyMap<string, Operand>;
}

/** What stands before an operator. */
export type Operand =
  number | boolean | null | ContentName | ContentString | ContentWord | ContentDict | readonly Operand[];

/** An image that stands in the content itself. */
export interface InlineImage {
  /** Its keys and its values' abbreviations in full. */
  readonly dict: ContentDict;
  /** As coded. */
  readonly data: Uint8Array;
}

/** One operator with what stands before it. `inline` where the operator is BI: up to and with EI. */
export interface Operation {
  readonly operator: string;
  readonly operands: readonly Operand[];
  readonly inline?: InlineImage;
}

/** Whether an operand is a name. */
export function isName(operand: Operand | undefined): operand is ContentName {
  return typeof operand === 'object' && operand !== null && 'kind' in operand && operand.kind === 'name';
}

/** Whether an operand is a dictionary. */
export function isDict(operand: Operand | undefined): operand is ContentDict {
  return typeof operand === 'object' && operand !== null && 'kind' in operand && operand.kind === 'dict';
}

/** An operand's number, or undefined where it is none. */
export function numberOf(operand: Operand | undefined): number | undefined {
  if (typeof operand === 'number') return operand;
  const isWord = typeof operand === 'object' && operand !== null && 'kind' in operand && operand.kind === 'word';
  return isWord ? operand.number : undefined;
}
