import { deflateSync } from 'node:zlib';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Operation } from '../../../src/reading/pdf/content/operand.ts';
import { Operations } from '../../../src/reading/pdf/content/operations.ts';

function read(content: string | Buffer): readonly Operation[] {
  const operations = new Operations(typeof content === 'string' ? Buffer.from(content, 'latin1') : content);
  const all: Operation[] = [];
  for (let next = operations.next(); next !== null; next = operations.next()) all.push(next);
  return all;
}

const name = (text: string): unknown => ({ kind: 'name', name: text });
const string = (text: string): unknown => ({ kind: 'string', bytes: new Uint8Array(Buffer.from(text, 'latin1')) });

describe('content is read operator by operator', () => {
  it('with operands of every kind', () => {
    expect(read('1 -.5 +3. /N#61me (a(b)\\051) <4 1 4> [1[/x]] <</K 2/L<</M true>>>> null op')).toEqual([
      {
        operator: 'op',
        operands: [
          1,
          -0.5,
          3,
          name('Name'),
          string('a(b))'),
          string('A@'),
          [1, [name('x')]],
          {
            kind: 'dict',
            entries: new Map<string, unknown>([
              ['K', 2],
              ['L', { kind: 'dict', entries: new Map([['M', true]]) }],
            ]),
          },
          null,
        ],
      },
    ]);
  });

  it('where nothing parts the tokens but themselves', () => {
    expect(read('/A/B 1(x)Tj[2]TJ%end\nq')).toEqual([
      { operator: 'Tj', operands: [name('A'), name('B'), 1, string('x')] },
      { operator: 'TJ', operands: [[2]] },
      { operator: 'q', operands: [] },
    ]);
  });

  it('with words that begin like numbers kept apart from operators', () => {
    expect(read('--5 1.2.3 -op 5-3 w')).toEqual([
      {
        operator: '-op',
        operands: [
          { kind: 'word', text: '--5', number: -5 },
          { kind: 'word', text: '1.2.3', number: 1.2 },
        ],
      },
      { operator: 'w', operands: [{ kind: 'word', text: '5-3', number: 53 }] },
    ]);
  });

  it('with what stands before no operator', () => {
    expect(read('q 1 2')).toEqual([
      { operator: 'q', operands: [] },
      { operator: '', operands: [1, 2] },
    ]);
  });

  it('with the escapes and line ends of strings', () => {
    expect(read('(\\n\\r\\t\\b\\f\\(\\\\\\q\\7\\0612\\\r\nx\r\ny\rz) Tj')[0]!.operands).toEqual([
      string('\n\r\t\b\f(\\q\x0712x\ny\nz'),
    ]);
  });

  it('with every decimal number exactly as the machine reads it', () => {
    fc.assert(
      fc.property(fc.stringMatching(/^-?[0-9]{1,17}(\.[0-9]{0,20})?$/), (text) => {
        expect(read(`${text} w`)[0]!.operands).toEqual([Number(text) + 0]);
      }),
      { numRuns: 500 },
    );
  });
});

describe('a picture in the content ends where its data end', () => {
  const dictOf = (operation: Operation): Record<string, unknown> =>
    Object.fromEntries<unknown>(operation.inline?.dict.entries ?? []);
  const pixels = Buffer.from(' EI Q EI \n EI q ', 'latin1');

  it.each<[string, string, Buffer]>([
    ['raw, by its size', '/W 16/H 1/BPC 8/CS/G', pixels],
    ['raw, by its Length', `/W 9/H 9/CS/Unknown/L ${pixels.length}`, pixels],
    ['inflated', '/W 16/H 1/BPC 8/CS/G/F/Fl', deflateSync(pixels)],
    ['in hexadecimal', '/W 1/H 1/BPC 8/CS/G/F/AHx', Buffer.from('20 454920>')],
    ['in ASCII85', '/W 1/H 1/F/A85', Buffer.from('EI EI !!~>')],
    ['by the look of what follows', '/W 4/H 4/F/DCT', Buffer.from('\xff\xd8 EI \x01\x02\x03\xff\xd9', 'latin1')],
  ])('%s', (_, entries, data) => {
    const content = Buffer.concat([Buffer.from(`q BI ${entries} ID `), data, Buffer.from('\nEI Q')]);
    const operations = read(content);
    expect(operations.map(({ operator }) => operator)).toEqual(['q', 'BI', 'Q']);
    expect(Buffer.from(operations[1]!.inline!.data).equals(data)).toBe(true);
  });

  it('and its abbreviations are told in full', () => {
    const [image] = read(
      'BI /W 1 /H 2 /BPC 8 /CS [/I /RGB 1 <00>] /IM false /D [0 1] /F [/A85 /Fl] /DP [null <<>>] ID ~> EI',
    );
    expect(dictOf(image!)).toEqual({
      Width: 1,
      Height: 2,
      BitsPerComponent: 8,
      ColorSpace: [name('Indexed'), name('DeviceRGB'), 1, string('\0')],
      ImageMask: false,
      Decode: [0, 1],
      Filter: [name('ASCII85Decode'), name('FlateDecode')],
      DecodeParms: [null, { kind: 'dict', entries: new Map() }],
    });
  });
});
