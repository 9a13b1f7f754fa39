import { hexDigit } from '../filters/ascii-hex.ts';
import { ENDS_WORD, IS_WHITE } from './characters.ts';
import { readLiteralString } from './literal-string.ts';

/** What a token is. */
export const TOKEN = {
  end: 0,
  number: 1,
  name: 2,
  string: 3,
  arrayOpen: 4,
  arrayClose: 5,
  dictOpen: 6,
  dictClose: 7,
  keyword: 8,
} as const;

type TokenKind = (typeof TOKEN)[keyof typeof TOKEN];

const POWERS_OF_TEN = Array.from({ length: 23 }, (_, power) => 10 ** power);
const EMPTY = new Uint8Array(0);

/**
 * Reads a content stream token by token. After `next`, the token's value is in `number`, `text` (a name or keyword, one
 * character a byte) or `bytes` (a string). A word that is no well-formed number is a keyword.
 *
 * @source ISO 32000-2 7.2, 7.3, 7.8.2
 */
export class Tokens {
  number = 0;
  text = '';
  bytes: Uint8Array = EMPTY;
  /** Where the next token is looked for. */
  at = 0;
  readonly source: Uint8Array;

  constructor(source: Uint8Array) {
    this.source = source;
  }

  next(): TokenKind {
    this.#skipSpace();
    const { source } = this;
    const byte = source[this.at];
    if (byte === undefined) return TOKEN.end;
    switch (byte) {
      case 0x2f:
        this.at += 1;
        this.text = this.#name();
        return TOKEN.name;
      case 0x28: {
        const { bytes, end } = readLiteralString(source, this.at + 1);
        this.bytes = bytes;
        this.at = end;
        return TOKEN.string;
      }
      case 0x3c:
        if (source[this.at + 1] === 0x3c) return this.#delimiter(2, TOKEN.dictOpen);
        this.bytes = this.#hexString();
        return TOKEN.string;
      case 0x3e:
        if (source[this.at + 1] === 0x3e) return this.#delimiter(2, TOKEN.dictClose);
        return this.#stray('>');
      case 0x5b:
        return this.#delimiter(1, TOKEN.arrayOpen);
      case 0x5d:
        return this.#delimiter(1, TOKEN.arrayClose);
      case 0x29:
      case 0x7b:
      case 0x7d:
        return this.#stray(String.fromCharCode(byte));
      default:
        return this.#word();
    }
  }

  #skipSpace(): void {
    const { source } = this;
    let at = this.at;
    for (;;) {
      const byte = source[at];
      if (byte === undefined) break;
      if (IS_WHITE[byte] === 1) {
        at += 1;
      } else if (byte === 0x25) {
        while (at < source.length && source[at] !== 0x0a && source[at] !== 0x0d) at += 1;
      } else {
        break;
      }
    }
    this.at = at;
  }

  #delimiter(length: number, kind: TokenKind): TokenKind {
    this.at += length;
    return kind;
  }

  #stray(text: string): TokenKind {
    this.at += 1;
    this.text = text;
    return TOKEN.keyword;
  }

  #name(): string {
    const { source } = this;
    const start = this.at;
    let text = '';
    let at = start;
    for (; at < source.length && ENDS_WORD[source[at]!] === 0; at += 1) {
      const byte = source[at]!;
      if (byte === 0x23) {
        const high = hexDigit(source[at + 1] ?? 0);
        const low = hexDigit(source[at + 2] ?? 0);
        if (high !== -1 && low !== -1) {
          text += String.fromCharCode(high * 16 + low);
          at += 2;
          continue;
        }
      }
      text += String.fromCharCode(byte);
    }
    this.at = at;
    return text;
  }

  #hexString(): Uint8Array {
    const { source } = this;
    const found = source.indexOf(0x3e, this.at + 1);
    const end = found === -1 ? source.length : found;
    const bytes = new Uint8Array((end - this.at) >> 1);
    let length = 0;
    let high = -1;
    for (let at = this.at + 1; at < end; at += 1) {
      const digit = hexDigit(source[at]!);
      if (digit === -1) continue;
      if (high === -1) {
        high = digit;
      } else {
        bytes[length] = high * 16 + digit;
        length += 1;
        high = -1;
      }
    }
    if (high !== -1) {
      bytes[length] = high * 16;
      length += 1;
    }
    this.at = Math.min(source.length, end + 1);
    return bytes.subarray(0, length);
  }

  /** A number where the whole word is one, else a keyword. */
  #word(): TokenKind {
    const { source } = this;
    const start = this.at;
    let at = start;
    const sign = source[at] === 0x2d ? -1 : 1;
    if (sign === -1 || source[at] === 0x2b) at += 1;
    let value = 0;
    let digits = 0;
    let decimals = -1;
    for (; at < source.length; at += 1) {
      const byte = source[at]!;
      if (byte >= 0x30 && byte <= 0x39) {
        value = value * 10 + byte - 0x30;
        digits += 1;
        if (decimals !== -1) decimals += 1;
      } else if (byte === 0x2e && decimals === -1) {
        decimals = 0;
      } else {
        break;
      }
    }
    const isNumber = digits > 0 && (at >= source.length || ENDS_WORD[source[at]!] === 1);
    while (at < source.length && ENDS_WORD[source[at]!] === 0) at += 1;
    this.at = at;
    if (!isNumber) {
      this.text = latin1(source, start, at);
      return TOKEN.keyword;
    }
    if (value === 0) {
      this.number = 0;
    } else if (decimals <= 0 && digits <= 15) {
      this.number = sign * value;
    } else if (digits <= 15 && decimals <= 22) {
      // Both sides are exact doubles, so the quotient is the correctly rounded value of the decimal.
      this.number = (sign * value) / POWERS_OF_TEN[decimals]!;
    } else {
      this.number = Number(latin1(source, start, at));
    }
    return TOKEN.number;
  }
}

function latin1(source: Uint8Array, start: number, end: number): string {
  let text = '';
  for (let at = start; at < end; at += 1) text += String.fromCharCode(source[at]!);
  return text;
}
