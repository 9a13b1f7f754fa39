import { describe, expect, it } from 'vitest';
import type { Box } from '../../../src/model/index.ts';
import { pageGeometry } from '../../../src/reading/pdf/boxes.ts';
import { bookOf, handPdf, stream } from '../../reading/pdf/hand-pdf.ts';
import { nameOf, readProbes } from '../probe.ts';

interface Given {
  readonly above: string;
  readonly page: string;
}

type Four = readonly [x: number, y: number, width: number, height: number];

interface Expected {
  readonly turnDeg: number;
  readonly media: Four;
  readonly crop: Four;
  readonly bleed: Four;
  readonly trim: Four;
}

const probes = readProbes<Given, Expected>(new URL('boxes.json', import.meta.url));
/** Probes are written to a tenth of a micrometre; points in them are rounded to six digits. */
const rounded = ({ x, y, width, height }: Box): Four =>
  [x, y, width, height].map((value) => Number(value.toFixed(4)) + 0) as unknown as Four;

describe('page boxes as ISO 32000 has them', () => {
  it('13 probes are there', () => expect(probes).toHaveLength(13));

  it.each(probes.map((probe) => [nameOf(probe), probe] as const))('%s', async (_, { given, expected }) => {
    const book = await bookOf(
      handPdf({
        1: '<</Type/Catalog/Pages 2 0 R>>',
        2: '<</Type/Pages/Count 1/Kids[3 0 R]>>',
        3: `<</Type/Pages/Parent 2 0 R/Count 1/Kids[4 0 R]${given.above}>>`,
        4: `<</Type/Page/Parent 3 0 R/Contents 5 0 R${given.page}>>`,
        5: stream('', ''),
      }),
    );
    const { boxes, trimmed, turnDeg } = pageGeometry(book, 1);
    expect({
      turnDeg,
      media: rounded(boxes.media),
      crop: rounded(boxes.crop),
      bleed: rounded(boxes.bleed),
      trim: rounded(boxes.trim),
    }).toEqual(expected);
    expect(trimmed).toEqual({ width: boxes.trim.width, height: boxes.trim.height });
  });
});
