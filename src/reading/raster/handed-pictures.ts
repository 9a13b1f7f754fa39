import { randomBytes } from 'node:crypto';
import type { PDFPageProxy } from 'pdfjs-dist';

/** What the renderer makes of a picture before it draws it. */
interface ReadPicture {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array | null;
}

const TOKEN_BYTES = 16;

/**
 * Pictures that the renderer is given beside a file rather than in it, where each would be copied three times: a token stands
 * in the file in the place of each one's samples, and is exchanged for them when the renderer has read it. No file can have
 * the token of another, since it is made by chance when its own page is drawn.
 */
export class HandedPictures {
  readonly #token = randomBytes(TOKEN_BYTES);
  readonly #samples: Uint8Array[] = [];

  /**
   * Takes a picture of three bytes a pixel, in `DeviceRGB` and with nothing that masks it: of these the renderer takes the
   * samples as they are.
   *
   * @returns what stands in the file in their place
   */
  take(samples: Uint8Array): Uint8Array {
    const place = new Uint8Array(TOKEN_BYTES + 4);
    place.set(this.#token);
    new DataView(place.buffer).setUint32(TOKEN_BYTES, this.#samples.length);
    this.#samples.push(samples);
    return place;
  }

  /** Gives a page its pictures. Has to be called before it is drawn. */
  giveTo(page: PDFPageProxy): void {
    if (this.#samples.length === 0) return;
    const { objs: store } = page;
    const keep = store.resolve.bind(store);
    store.resolve = (id: string, picture: unknown) => keep(id, this.#exchanged(picture));
  }

  #exchanged(picture: unknown): unknown {
    if (typeof picture !== 'object' || picture === null || !('data' in picture)) return picture;
    const { data } = picture as ReadPicture;
    if (data?.length !== TOKEN_BYTES + 4 || !this.#token.equals(data.subarray(0, TOKEN_BYTES))) return picture;
    const samples = this.#samples[new DataView(data.buffer, data.byteOffset).getUint32(TOKEN_BYTES)];
    return { ...picture, data: samples };
  }
}
