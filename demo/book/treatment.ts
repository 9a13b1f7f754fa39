import sharp from 'sharp';
import type { Sharp } from 'sharp';
import type { Box } from '../../src/model/index.ts';
import type { Treatment } from './spec.ts';

/** Weights of the channels in lightness. @source ITU-R BT.709, from memory */
const LUMA: [number, number, number] = [0.2126, 0.7152, 0.0722];

/** Pixels cut from a negative, and which part of the source they are. */
export interface Cutting {
  readonly rgb: Buffer;
  readonly width: number;
  readonly height: number;
  /** In fractions of the source. */
  readonly region: Box;
}

/** A picture with one treatment more; what lies outside the cutting is left out. */
export async function treat(cutting: Cutting, treatment: Treatment): Promise<Cutting> {
  const image = open(cutting);
  switch (treatment.kind) {
    case 'grey':
      return close(cutting, image.recomb([LUMA, LUMA, LUMA]));
    case 'inverted':
      return close(cutting, image.negate({ alpha: false }));
    case 'cast':
      return close(cutting, image.linear([...treatment.factors], [0, 0, 0]));
    case 'contrast':
      return close(cutting, image.linear(treatment.factor, 128 * (1 - treatment.factor)));
    case 'smoothed':
      return overlay(cutting, treatment.box, (patch, px) =>
        patch.blur(Math.max(1, Math.min(px.width, px.height) / 2.5)),
      );
    case 'dodged':
      return overlay(cutting, treatment.box, (patch) => patch.linear(treatment.factor, 0));
    case 'pasted': {
      const from = { ...treatment.box, ...treatment.from };
      return overlay(cutting, treatment.box, (patch) => patch, from);
    }
  }
}

interface PixelBox {
  left: number;
  top: number;
  width: number;
  height: number;
}

function pixelBox(cutting: Cutting, box: Box): PixelBox {
  const sx = cutting.width / cutting.region.width;
  const sy = cutting.height / cutting.region.height;
  const left = Math.max(0, Math.round((box.x - cutting.region.x) * sx));
  const top = Math.max(0, Math.round((box.y - cutting.region.y) * sy));
  return {
    left,
    top,
    width: Math.min(cutting.width - left, Math.round(box.width * sx)),
    height: Math.min(cutting.height - top, Math.round(box.height * sy)),
  };
}

type Change = (patch: Sharp, px: PixelBox) => Sharp;

/** Puts a changed patch back through an ellipse with a rim that fades over a tenth of it. */
async function overlay(cutting: Cutting, box: Box, change: Change, from: Box = box): Promise<Cutting> {
  const px = pixelBox(cutting, box);
  const source = pixelBox(cutting, from);
  const size = { width: Math.min(px.width, source.width), height: Math.min(px.height, source.height) };
  if (size.width < 1 || size.height < 1) throw new Error('a treatment lies outside its picture');
  const patch = open(cutting).extract({ ...source, ...size });
  const changed = await change(patch, px).removeAlpha().raw().toBuffer();
  const rgb = Buffer.from(cutting.rgb);
  for (let y = 0; y < size.height; y += 1) {
    for (let x = 0; x < size.width; x += 1) {
      const distance = Math.hypot((x + 0.5) / size.width - 0.5, (y + 0.5) / size.height - 0.5) * 2;
      const part = Math.min(1, Math.max(0, (1 - distance) / 0.1));
      const to = ((px.top + y) * cutting.width + px.left + x) * 3;
      for (let c = 0; c < 3; c += 1) {
        const value = changed[(y * size.width + x) * 3 + c] ?? 0;
        rgb[to + c] = Math.round((rgb[to + c] ?? 0) * (1 - part) + value * part);
      }
    }
  }
  return { ...cutting, rgb };
}

function open(cutting: Cutting): Sharp {
  return sharp(cutting.rgb, { raw: { width: cutting.width, height: cutting.height, channels: 3 } });
}

async function close(cutting: Cutting, image: Sharp): Promise<Cutting> {
  return { ...cutting, rgb: await image.removeAlpha().raw().toBuffer() };
}
