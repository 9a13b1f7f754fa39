import { PDFName, PDFNumber, PDFParser, PDFRawStream, PDFRef } from '@cantoo/pdf-lib';
import type { PDFContext, PDFDict, PDFStream } from '@cantoo/pdf-lib';
import { Refusal } from '../../model/index.ts';
import type { Limits } from '../../model/index.ts';
import { decodeData, filterSteps } from './decode.ts';

const LONGEST_INTEGER = 20;
const END = Buffer.from('endstream');
const LINE_FEED = 0x0a;
const CARRIAGE_RETURN = 0x0d;

/**
 * The library's parser with four holes closed: a stream whose /Length is a reference is cut by that length instead of
 * byte by byte at the first `endstream`; object streams are inflated under a limit; what lies between objects is passed
 * over once instead of once for each byte; and the whole has a time limit.
 */
class BookParser extends PDFParser {
  refusal: Refusal | null = null;
  readonly #file: Buffer;
  readonly #limits: Limits;
  readonly #deadline: number;
  #latestDict: PDFDict | null = null;
  /** What searching for lengths ahead may still cost, in bytes. */
  #searchBudget: number;
  #integers = 0;

  constructor(file: Buffer, limits: Limits) {
    super(file, Infinity, false, false);
    this.#file = file;
    this.#limits = limits;
    this.#searchBudget = file.length * 4;
    this.#deadline = performance.now() + limits.pageMs;
  }

  protected override parseDict(ref?: PDFRef): PDFDict {
    const dict = super.parseDict(ref);
    this.#latestDict = dict;
    return dict;
  }

  protected override parseDictOrStream(ref?: PDFRef): PDFDict | PDFStream {
    const object = super.parseDictOrStream(ref);
    return object instanceof PDFRawStream ? this.#unfoldStructure(object) : object;
  }

  protected override findEndOfStreamFallback(): number {
    const start = this.bytes.offset();
    const length = this.#lengthByReference(start);
    const end = length === null ? this.#endByKeyword(start) : start + length;
    this.bytes.moveTo(this.#file.indexOf(END, end) + END.length);
    return end;
  }

  protected override parseRawInt(): number {
    this.#integers += 1;
    if (this.#integers % 16 === 0 && performance.now() > this.#deadline) {
      this.#stop(
        new Refusal('too-large', {
          what: 'the time to open the file',
          limit: this.#limits.pageMs / 1000,
          found: Math.ceil((performance.now() - this.#deadline + this.#limits.pageMs) / 1000),
          unit: 's',
        }),
      );
    }
    const from = this.bytes.offset();
    let digits = 0;
    while (digits <= LONGEST_INTEGER && isDigit(this.#file[from + digits])) digits += 1;
    if (digits > LONGEST_INTEGER) throw new Error('an integer of more than 20 digits');
    return super.parseRawInt();
  }

  /** Stands at the next object, cross-reference table or trailer, or at the end. */
  passOverJunk(): void {
    this.skipWhitespaceAndComments();
    this.bytes.moveTo(nextStructure(this.#file, this.bytes.offset()));
  }

  /** Object and cross-reference streams are unfolded here, so that the library finds them plain. */
  #unfoldStructure(stream: PDFRawStream): PDFRawStream {
    const type = stream.dict.get(PDFName.of('Type'));
    if (type !== PDFName.of('ObjStm') && type !== PDFName.of('XRef')) return stream;
    const steps = filterSteps(stream.dict);
    if (steps.length === 0) return stream;
    try {
      const { data } = decodeData(stream.contents, steps, this.#limits.streamBytes);
      stream.dict.delete(PDFName.of('Filter'));
      stream.dict.delete(PDFName.of('DecodeParms'));
      return PDFRawStream.of(stream.dict, data);
    } catch (error) {
      if (error instanceof Refusal) this.#stop(error as Refusal);
      throw error;
    }
  }

  /** Ends the library's loops, which would swallow an error, by standing at the end of the file. */
  #stop(refusal: Refusal): never {
    this.refusal ??= refusal;
    this.bytes.moveTo(this.#file.length);
    throw refusal;
  }

  #lengthByReference(start: number): number | null {
    const reference = this.#latestDict?.get(PDFName.of('Length'));
    if (!(reference instanceof PDFRef)) return null;
    const known = this.context.lookup(reference);
    const length = known instanceof PDFNumber ? known.asNumber() : this.#lengthAhead(reference, start);
    return length !== null && this.#endsStream(start + length) ? length : null;
  }

  #lengthAhead(reference: PDFRef, start: number): number | null {
    if (this.#searchBudget <= 0) return null;
    const header = `${reference.objectNumber} ${reference.generationNumber} obj`;
    for (let from = start; ;) {
      const found = this.#file.indexOf(header, from, 'latin1');
      this.#searchBudget -= (found === -1 ? this.#file.length : found) - from;
      if (found === -1) return null;
      if (!isDigit(this.#file[found - 1])) {
        const value = /^\s*(\d{1,15})\s/.exec(
          this.#file.toString('latin1', found + header.length, found + header.length + 64),
        );
        if (value !== null) return Number(value[1]);
      }
      from = found + header.length;
    }
  }

  #endsStream(at: number): boolean {
    if (at > this.#file.length) return false;
    let from = at;
    while (from < at + 4 && isWhite(this.#file[from])) from += 1;
    return this.#file.subarray(from, from + END.length).equals(END);
  }

  #endByKeyword(start: number): number {
    const found = this.#file.indexOf(END, start);
    if (found === -1) throw new Error('a stream without an end');
    if (this.#file[found - 1] === LINE_FEED) {
      return Math.max(start, found - (this.#file[found - 2] === CARRIAGE_RETURN ? 2 : 1));
    }
    return Math.max(start, found - (this.#file[found - 1] === CARRIAGE_RETURN ? 1 : 0));
  }
}

// The library's own way tries a header at every byte, white space in front of it included: quadratic in a long run of it.
Object.defineProperty(BookParser.prototype, 'skipJibberish', {
  value(this: BookParser) {
    this.passOverJunk();
  },
});

const HEADER = /^\d{1,20}[\0\t\n\f\r ]+\d{1,20}[\0\t\n\f\r ]*obj/;
const LONGEST_HEADER = 96;
const KEYWORDS: Readonly<Record<number, string>> = { 0x78: 'xref', 0x74: 'trailer', 0x73: 'startxref' };

function nextStructure(file: Buffer, from: number): number {
  for (let at = from; at < file.length; at += 1) {
    const byte = file[at]!;
    if (byte > 0x78 || byte < 0x30) continue;
    const keyword = KEYWORDS[byte];
    if (keyword !== undefined) {
      if (file.toString('latin1', at, at + keyword.length) === keyword) return at;
    } else if (isDigit(byte)) {
      if (HEADER.test(file.toString('latin1', at, at + LONGEST_HEADER))) return at;
      while (isDigit(file[at + 1])) at += 1;
    }
  }
  return file.length;
}

function isDigit(byte: number | undefined): boolean {
  return byte !== undefined && byte >= 0x30 && byte <= 0x39;
}

function isWhite(byte: number | undefined): boolean {
  return byte === 0x20 || byte === LINE_FEED || byte === CARRIAGE_RETURN || byte === 0x09 || byte === 0;
}

/**
 * All objects of a file. Streams keep their coded bytes as views into `file`.
 *
 * @throws {Refusal} too-large: an object stream unfolds too far, or opening takes longer than `limits.pageMs`; what the
 * library throws at a damaged file is passed on as it is
 */
export async function parseObjects(file: Buffer, limits: Limits): Promise<PDFContext> {
  const parser = new BookParser(file, limits);
  try {
    const context = await parser.parseDocument();
    if (parser.refusal !== null) throw parser.refusal;
    return context;
  } catch (error) {
    throw parser.refusal ?? error;
  }
}
