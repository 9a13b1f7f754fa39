import { randomBytes } from 'node:crypto';
import type { Canvas } from '@napi-rs/canvas';
import type { PDFPageProxy } from 'pdfjs-dist';
import { loadCanvas } from './canvas.ts';
import type { Samples } from './picture-kind.ts';

/** What the renderer makes of a picture before it draws it. */
interface ReadPicture {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array | null;
}

type Canvases = Awaited<ReturnType<typeof loadCanvas>>;
type Bitmap = Canvas & { readonly close: () => void };

const TOKEN_BYTES = 16;

/**
 * Pictures that the renderer is given beside a file rather than in it, where each would be copied three times: a token stands
 * in the file in the place of each one's samples, and is exchanged for them when the renderer has read it. No file can have
 * the token of another, since it is made by chance when its own page is drawn.
 */
export class HandedPictures {
  readonly #token = randomBytes(TOKEN_BYTES);
  readonly #pictures: Samples[] = [];

  /**
   * Takes a picture of three bytes a pixel, in `DeviceRGB` and with nothing that masks it: of these the renderer takes the
   * samples as they are. Or of four bytes, the last 255: of these it is given a canvas, as it would make one itself.
   *
   * @returns what stands in the file in their place
   */
  take(picture: Samples): Uint8Array {
    const place = new Uint8Array(TOKEN_BYTES + 4);
    place.set(this.#token);
    new DataView(place.buffer).setUint32(TOKEN_BYTES, this.#pictures.length);
    this.#pictures.push(picture);
    return place;
  }

  /** Gives a page its pictures. Has to be called before it is drawn. */
  async giveTo(page: PDFPageProxy): Promise<void> {
    if (this.#pictures.length === 0) return;
    const canvases = await loadCanvas();
    const { objs: store } = page;
    const keep = store.resolve.bind(store);
    store.resolve = (id: string, picture: unknown) => keep(id, this.#exchanged(picture, canvases));
  }

  #exchanged(picture: unknown, canvases: Canvases): unknown {
    if (typeof picture !== 'object' || picture === null || !('data' in picture)) return picture;
    const { data } = picture as ReadPicture;
    if (data?.length !== TOKEN_BYTES + 4 || !this.#token.equals(data.subarray(0, TOKEN_BYTES))) return picture;
    const handed = this.#pictures[new DataView(data.buffer, data.byteOffset).getUint32(TOKEN_BYTES)]!;
    const isOpaque = handed.data.length === handed.width * handed.height * 4;
    if (!isOpaque) return { ...picture, data: handed.data };
    return { ...picture, ...handed.shown, data: null, bitmap: bitmapOf(handed, canvases) };
  }
}

/**
 * A picture as the renderer takes one that a browser has decoded. It says that it is as large as what is shown of it, so that
 * just this is drawn: a pixel that lies half outside is half drawn.
 */
function bitmapOf({ width, height, data, shown }: Samples, { createCanvas, ImageData }: Canvases): Bitmap {
  const canvas = createCanvas(width, height);
  const pixels = new Uint8ClampedArray(data.buffer as ArrayBuffer, data.byteOffset, data.length);
  canvas.getContext('2d').putImageData(new ImageData(pixels, width, height), 0, 0);
  const own = Object.getOwnPropertyDescriptor(Object.getPrototypeOf(canvas), 'width')!;
  return Object.defineProperties(canvas, {
    width: { value: shown?.width ?? width },
    height: { value: shown?.height ?? height },
    close: { value: () => own.set!.call(canvas, 0) },
  }) as Bitmap;
}
