import * as fc from 'fast-check';
import { expect, it } from 'vitest';
import { pageHash } from '../../../src/reading/pdf/page-hash.ts';
import { bookOf, drawing } from './hand-pdf.ts';

/** A token of a content stream, and every way in which it may be written. */
type Token = readonly string[];

const digits = (value: number): Token => {
  const plain = String(value);
  const decimal = plain.includes('.') ? plain : `${plain}.`;
  const short = /^(-?)0(\.\d+)$/.exec(plain);
  const signed = value >= 0 ? [`+${plain}`, `00${plain}`] : [plain.replace('-', '-0')];
  return [plain, `${decimal}0`, `${decimal}000`, ...signed, ...(short === null ? [] : [`${short[1]}${short[2]}`])];
};

const escaped = (bytes: Uint8Array, how: (byte: number, next: number | undefined) => string): string =>
  `(${Array.from(bytes, (byte, index) => how(byte, bytes[index + 1])).join('')})`;
const octal = (byte: number): string => `\\${byte.toString(8).padStart(3, '0')}`;
const stringSpellings = (bytes: Uint8Array): Token => {
  const hex = Buffer.from(bytes).toString('hex');
  return [
    `<${hex}>`,
    `<${hex.toUpperCase().replace(/(..)/g, '$1 ')}>`,
    escaped(bytes, octal),
    escaped(bytes, (byte) =>
      byte > 0x20 && byte < 0x7f && !'()\\'.includes(String.fromCharCode(byte))
        ? String.fromCharCode(byte)
        : octal(byte),
    ),
    escaped(bytes, (byte) => `\\\n${octal(byte)}`),
  ];
};

const nameSpellings = (text: string): Token => [
  `/${text}`,
  `/${Array.from(text, (letter) => `#${letter.charCodeAt(0).toString(16).padStart(2, '0')}`).join('')}`,
];

const number = fc
  .tuple(fc.integer({ min: -99_999, max: 99_999 }), fc.integer({ min: 0, max: 4 }))
  .map(([whole, power]) => digits(Number((whole / 10 ** power).toFixed(power)) + 0));
const string = fc.uint8Array({ maxLength: 8 }).map(stringSpellings);
const name = fc.stringMatching(/^[A-Za-z][A-Za-z0-9_.]{0,6}$/).map(nameSpellings);
const operator = fc.constantFrom('q', 'Q', 'cm', 're', 'f*', 'Tj', "'", 'w', 'unknown').map((text): Token => [text]);
const token = fc.oneof(number, number, string, name, operator);

const SPACES = [' ', '\n', '\r\n', '\t ', ' % remark (not a string\n', '\0'];

const spelled = (tokens: readonly Token[], choices: readonly number[]): string =>
  tokens
    .map((ways, index) => {
      const choice = choices[index % choices.length]!;
      return ways[choice % ways.length]! + SPACES[choice % SPACES.length]!;
    })
    .join('');

const choices = fc.array(fc.nat(999), { minLength: 1, maxLength: 40 });

it('a page keeps its hash however the same tokens are written', async () => {
  const law = fc.asyncProperty(fc.array(token, { maxLength: 40 }), choices, choices, async (tokens, one, other) => {
    const first = pageHash(await bookOf(drawing(spelled(tokens, one), '')), 1);
    expect(pageHash(await bookOf(drawing(spelled(tokens, other), '')), 1)).toBe(first);
  });
  await fc.assert(law, { numRuns: 150 });
});

it('a page with one number more or less has another hash', async () => {
  const law = fc.asyncProperty(fc.array(token, { maxLength: 20 }), number, choices, async (tokens, extra, spelling) => {
    const without = pageHash(await bookOf(drawing(spelled(tokens, spelling), '')), 1);
    const withIt = pageHash(await bookOf(drawing(spelled([...tokens, extra], spelling), '')), 1);
    expect(withIt).not.toBe(without);
  });
  await fc.assert(law, { numRuns: 60 });
});
