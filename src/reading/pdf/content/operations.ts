import { Refusal } from '../../../model/index.ts';
import { readInlineImage } from './inline-image.ts';
import type { ContentDict, Operand, Operation } from './operand.ts';
import { TOKEN, Tokens } from './tokens.ts';

const DEEPEST_OPERAND = 100;
/** More operands than any operator takes. */
const MOST_OPERANDS = 2 ** 16;

/** Reads a content stream operator by operator. */
export class Operations {
  readonly #tokens: Tokens;

  constructor(source: Uint8Array) {
    this.#tokens = new Tokens(source);
  }

  /** Where the next operator is looked for, in bytes of the source. */
  get at(): number {
    return this.#tokens.at;
  }

  /**
   * The next operator with its operands, or null at the end. Operands that no operator follows come with the operator ''.
   *
   * @throws {Refusal} too-large: arrays or dictionaries more than 100 deep, or more than 65,536 operands
   */
  next(): Operation | null {
    const tokens = this.#tokens;
    const operands: Operand[] = [];
    for (;;) {
      const kind = tokens.next();
      switch (kind) {
        case TOKEN.end:
          return operands.length === 0 ? null : { operator: '', operands };
        case TOKEN.keyword: {
          const { text } = tokens;
          if (text === 'BI') return { operator: 'BI', operands, inline: readInlineImage(tokens, this.#readDict) };
          const operand = wordOperand(text);
          if (operand === undefined) return { operator: text, operands };
          operands.push(operand);
          break;
        }
        case TOKEN.arrayClose:
        case TOKEN.dictClose:
          break;
        default:
          operands.push(this.#operand(kind, 0));
      }
      if (operands.length > MOST_OPERANDS) {
        throw new Refusal('too-large', {
          what: 'what stands before one operator',
          limit: MOST_OPERANDS,
          found: operands.length,
          unit: 'operands',
        });
      }
    }
  }

  /** Reads keys and values up to a closing token or one of the keywords. */
  readonly #readDict = (until: string, depth = 0): ContentDict => {
    const tokens = this.#tokens;
    const entries = new Map<string, Operand>();
    for (;;) {
      const kind = tokens.next();
      if (kind === TOKEN.end || kind === TOKEN.dictClose) break;
      if (kind === TOKEN.keyword && tokens.text === until) break;
      if (kind !== TOKEN.name) continue;
      const key = tokens.text;
      const valueKind = tokens.next();
      if (valueKind === TOKEN.end || valueKind === TOKEN.dictClose) break;
      if (valueKind === TOKEN.keyword) {
        if (tokens.text === until) break;
        entries.set(key, wordOperand(tokens.text) ?? null);
      } else {
        entries.set(key, this.#operand(valueKind, depth));
      }
    }
    return { kind: 'dict', entries };
  };

  #operand(kind: number, depth: number): Operand {
    const tokens = this.#tokens;
    if (depth > DEEPEST_OPERAND) {
      throw new Refusal('too-large', {
        what: 'arrays inside arrays of a content stream',
        limit: DEEPEST_OPERAND,
        found: depth,
        unit: 'levels',
      });
    }
    switch (kind) {
      case TOKEN.number:
        return tokens.number;
      case TOKEN.name:
        return { kind: 'name', name: tokens.text };
      case TOKEN.string:
        return { kind: 'string', bytes: tokens.bytes };
      case TOKEN.dictOpen:
        return this.#readDict('', depth + 1);
      case TOKEN.arrayOpen:
        return this.#array(depth + 1);
      default:
        return null;
    }
  }

  #array(depth: number): readonly Operand[] {
    const elements: Operand[] = [];
    for (;;) {
      const kind = this.#tokens.next();
      if (kind === TOKEN.end || kind === TOKEN.arrayClose) return elements;
      if (kind === TOKEN.keyword) {
        const operand = wordOperand(this.#tokens.text);
        if (operand !== undefined) elements.push(operand);
      } else if (kind !== TOKEN.dictClose) {
        elements.push(this.#operand(kind, depth));
      }
    }
  }
}

/** A word that is an operand although no well-formed token of its own; undefined where it is an operator. */
function wordOperand(text: string): Operand | undefined {
  if (text === 'true') return true;
  if (text === 'false') return false;
  if (text === 'null') return null;
  const number = lenientNumber(text);
  return number === undefined ? undefined : { kind: 'word', text, number };
}

/** Further signs are passed over, a second point ends the number. Undefined where a word does not begin like a number. */
function lenientNumber(word: string): number | undefined {
  // Nearly every word is an operator: a look at its first letter spares the expression.
  if (word.charCodeAt(0) > 0x39) return undefined;
  const match = /^([+-]?)[+-]*(\d[\d-]*)?(?:\.([\d-]*))?/.exec(word);
  if (match === null || (match[2] === undefined && match[3] === undefined)) return undefined;
  const whole = (match[2] ?? '').replaceAll('-', '');
  const decimals = (match[3] ?? '').replaceAll('-', '');
  const value = Number(`${whole === '' ? '0' : whole}.${decimals === '' ? '0' : decimals}`);
  return match[1] === '-' ? -value : value;
}
