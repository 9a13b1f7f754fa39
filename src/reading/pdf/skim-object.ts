import type { ReadInPlaces } from './read-in-places.ts';

/** Data of a stream that stay on disk. */
export interface OnDisk {
  readonly at: number;
  readonly bytes: number;
  /** The stream's /Length as the file has it: a number, or the object that has it. */
  readonly length: number | { readonly objectNumber: number; readonly generationNumber: number };
}

/** A stream that was passed over. */
export interface PassedStream {
  /** Where the value of its /Length stands. */
  readonly value: { readonly from: number; readonly to: number };
  readonly data: OnDisk;
  /** It holds objects or their places, which are read at once. */
  readonly isStructure: boolean;
}

interface Token {
  readonly kind: 'word' | 'name' | 'open' | 'close' | 'array' | 'array-end' | 'string' | 'end' | 'odd';
  readonly text: string;
  readonly from: number;
  readonly to: number;
}

/** Words that stand between objects: the header's and the cross-reference table's. */
const BETWEEN = new Set(['xref', 'trailer', 'startxref', 'n', 'f']);
const LONGEST_WORD = 128;
const INTEGER = /^\d{1,15}$/;

/** Walks through a file's objects from its beginning; stops at the first thing that is out of order. */
export class ObjectSkimmer {
  readonly #file: ReadInPlaces;
  /** Objects that are a number and nothing else, as they were last met, by number and generation. */
  readonly #numbers = new Map<string, number>();
  #at = 0;
  /** What searching ahead for lengths may still cost, in bytes. */
  #budget: number;

  /** @param mostSearched  bytes that searching ahead for lengths may cost in all */
  constructor(file: ReadInPlaces, mostSearched = file.bytes * 4) {
    this.#file = file;
    this.#budget = mostSearched;
  }

  /** Behind the last stream that was passed. */
  get at(): number {
    return this.#at;
  }

  /** Passes on to behind the next stream's data; where it does not come so far, it stays where it was. */
  next(): PassedStream | 'end' | 'disorder' {
    const start = this.#at;
    const passed = this.#pass();
    if (typeof passed === 'string') this.#at = start;
    return passed;
  }

  #pass(): PassedStream | 'end' | 'disorder' {
    let [first, second] = ['', ''];
    for (;;) {
      const token = this.#token();
      if (token.kind === 'end') return 'end';
      if (token.text === 'obj' && INTEGER.test(first) && INTEGER.test(second)) {
        const passed = this.#object(`${Number(first)} ${Number(second)}`);
        if (passed !== null) return passed;
        [first, second] = ['', ''];
      } else if (token.text === 'trailer' && token.kind === 'word') {
        if (this.#dictionary() === null) return 'disorder';
        [first, second] = ['', ''];
      } else if (token.kind === 'word' && (INTEGER.test(token.text) || BETWEEN.has(token.text))) {
        [first, second] = [second, token.text];
      } else {
        return 'disorder';
      }
    }
  }

  /** An object behind its header, up to `endobj`; null where it has no data. */
  #object(name: string): PassedStream | 'disorder' | null {
    const start = this.#at;
    const token = this.#token();
    if (token.kind !== 'open') {
      this.#at = start;
      return this.#plain(name) ? null : 'disorder';
    }
    this.#at = start;
    const dict = this.#dictionary();
    if (dict === null) return 'disorder';
    const behind = this.#token();
    if (behind.text === 'endobj') return null;
    if (behind.text !== 'stream' || behind.kind !== 'word') return 'disorder';
    return this.#stream(dict, behind.to) ?? 'disorder';
  }

  /** An object that is neither a dictionary nor a stream. */
  #plain(name: string): boolean {
    const words: string[] = [];
    for (;;) {
      const token = this.#token();
      if (token.kind === 'word' && token.text === 'endobj') break;
      if (token.kind === 'end' || token.kind === 'odd' || token.text === 'obj' || token.text === 'stream') return false;
      if (words.length < 2) words.push(token.text);
    }
    if (words.length === 1 && INTEGER.test(words[0]!)) this.#numbers.set(name, Number(words[0]));
    else this.#numbers.delete(name);
    return true;
  }

  /** A dictionary from its opening on; null where it does not close. */
  #dictionary(): {
    readonly value: { from: number; to: number; text: string } | null;
    readonly isStructure: boolean;
  } | null {
    let [dicts, arrays] = [0, 0];
    let value: { from: number; to: number; text: string } | null = null;
    let isStructure = false;
    do {
      const token = this.#token();
      if (token.kind === 'end' || token.kind === 'odd' || token.text === 'endobj' || token.text === 'stream')
        return null;
      if (token.kind === 'open') dicts += 1;
      if (token.kind === 'close') dicts -= 1;
      if (token.kind === 'array') arrays += 1;
      if (token.kind === 'array-end') arrays -= 1;
      if (arrays < 0 || dicts < 0 || (dicts === 0 && token.kind !== 'close')) return null;
      if (token.text === '/ObjStm' || token.text === '/XRef') isStructure = true;
      if (token.text === '/Length' && dicts === 1 && arrays === 0) value = this.#lengthValue();
    } while (dicts > 0);
    return arrays === 0 ? { value, isStructure } : null;
  }

  /** `123` or `12 0 R`; nothing is taken where it is neither. */
  #lengthValue(): { from: number; to: number; text: string } | null {
    const start = this.#at;
    const [number, generation] = [this.#token(), this.#token()];
    const behind = generation.to;
    const last = this.#token();
    if (number.kind === 'word' && INTEGER.test(number.text)) {
      if (INTEGER.test(generation.text) && last.kind === 'word' && last.text === 'R') {
        return { from: number.from, to: last.to, text: `${Number(number.text)} ${Number(generation.text)}` };
      }
      this.#at = number.to;
      return { from: number.from, to: number.to, text: number.text };
    }
    this.#at = Math.min(start, behind);
    return null;
  }

  #stream(
    {
      value,
      isStructure,
    }: { readonly value: { from: number; to: number; text: string } | null; readonly isStructure: boolean },
    keyword: number,
  ): PassedStream | null {
    if (value === null) return null;
    const carriage = this.#file.byte(keyword) === 0x0d ? 1 : 0;
    if (this.#file.byte(keyword + carriage) !== 0x0a) return null;
    const at = keyword + carriage + 1;
    const [number, generation] = value.text.split(' ').map(Number) as [number, number?];
    const bytes = generation === undefined ? number : this.#lengthOf(value.text, at);
    if (bytes === null || at + bytes > this.#file.bytes) return null;
    this.#at = at + bytes;
    for (let white = 0; white < 2 && isWhite(this.#file.byte(this.#at)); white++) this.#at += 1;
    const end = this.#at;
    const [closing, endobj] = [this.#token(), this.#token()];
    if (closing.text !== 'endstream' || closing.from !== end || endobj.text !== 'endobj') return null;
    const length = generation === undefined ? number : { objectNumber: number, generationNumber: generation };
    return { value, data: { at, bytes, length }, isStructure };
  }

  /** A length that is an object of its own: met before, or else the first one ahead that is a number. */
  #lengthOf(name: string, from: number): number | null {
    const known = this.#numbers.get(name);
    if (known !== undefined) return known;
    const header = `${name} obj`;
    for (let at = from; this.#budget > 0;) {
      const found = this.#file.find(header, at);
      this.#budget -= (found === -1 ? this.#file.bytes : found) - at;
      if (found === -1) return null;
      const text = this.#file.read(found - 1, header.length + 65).toString('latin1');
      const number = /^\D[^]*? obj\s*(\d{1,15})\s/.exec(text);
      if (number !== null) return Number(number[1]);
      at = found + header.length;
    }
    return null;
  }

  #token(): Token {
    const file = this.#file;
    let at = this.#at;
    for (let byte = file.byte(at); isWhite(byte) || byte === 0x25; byte = file.byte(at)) {
      if (byte === 0x25) while (!isLineEnd(file.byte(at))) at += 1;
      else at += 1;
    }
    const from = at;
    const told = (kind: Token['kind'], to: number, text = ''): Token => {
      this.#at = to;
      return { kind, text, from, to };
    };
    const byte = file.byte(at);
    switch (byte) {
      case -1:
        return told('end', at);
      case 0x28:
        return told(...this.#string(at));
      case 0x3c:
        if (file.byte(at + 1) === 0x3c) return told('open', at + 2);
        while (file.byte(at) !== 0x3e) if (file.byte((at += 1)) === -1) return told('odd', at);
        return told('string', at + 1);
      case 0x3e:
        return file.byte(at + 1) === 0x3e ? told('close', at + 2) : told('odd', at + 1);
      case 0x5b:
        return told('array', at + 1);
      case 0x5d:
        return told('array-end', at + 1);
      case 0x29:
      case 0x7b:
      case 0x7d:
        return told('odd', at + 1);
    }
    let text = String.fromCharCode(byte);
    for (at += 1; isRegular(file.byte(at)); at += 1) {
      if (text.length > LONGEST_WORD) return told('odd', at);
      text += String.fromCharCode(file.byte(at));
    }
    return told(byte === 0x2f ? 'name' : 'word', at, text);
  }

  #string(from: number): ['string' | 'odd', number] {
    let open = 0;
    let at = from;
    do {
      const byte = this.#file.byte(at);
      if (byte === -1) return ['odd', at];
      if (byte === 0x5c) at += 1;
      else if (byte === 0x28) open += 1;
      else if (byte === 0x29) open -= 1;
      at += 1;
    } while (open > 0);
    return ['string', at];
  }
}

function isWhite(byte: number): boolean {
  return byte === 0x20 || byte === 0x0a || byte === 0x0d || byte === 0x09 || byte === 0x0c || byte === 0;
}

function isLineEnd(byte: number): boolean {
  return byte === 0x0a || byte === 0x0d || byte === -1;
}

function isRegular(byte: number): boolean {
  return byte !== -1 && !isWhite(byte) && !DELIMITERS.has(byte);
}

const DELIMITERS = new Set(Buffer.from('()<>[]{}/%', 'latin1'));
