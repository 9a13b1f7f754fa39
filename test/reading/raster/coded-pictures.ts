/** Pictures of 48 x 32 samples under the filters that are rare in photo books. */

/** 48 x 32 samples as JPEG 2000: red grows to the right, green downwards, blue falls to the right (OpenJPEG 2.5). */
export const JPX = `AAAADGpQICANCocKAAAAFGZ0eXBqcDIgAAAAAGpwMiAAAAAtanAyaAAAABZpaGRyAAAAIAAAADAAAwcHAAAAAAAPY29scgEAAAAAABAAAAEZanAyY/9P
/1EALwAAAAAAMAAAACAAAAAAAAAAAAAAADAAAAAgAAAAAAAAAAAAAwcBAQcBAQcBAf9SAAwAAAABAAUEBAAB/1wAE0BASEhQSEhQSEhQSEhQSEhQ/2QAJQAB
Q3JlYXRlZCBieSBPcGVuSlBFRyB2ZXJzaW9uIDIuNS40/5AACgAAAAAAkgAB/5PfYCAG7f9/x8wICHPfeBgEPfvAfACACKfeBgJlU8B8AIABw+kGABFDb6Pp
Cgs7d+Kfw+kGABJMO8HxgwAsW9Oh8wYAA4JfdY6nwfGDACuv08D4BABLJVTvoPmEAFIqTArfc4LxwPgEAEp5Uu/AcICC3eeWoHxhgLc4Ko//f8BwgIKy5xb/
2Q==`;

export const [WIDTH, HEIGHT] = [48, 32];

/** Black where x < 24, white beyond; one byte a pixel. */
export const halves = Uint8Array.from({ length: WIDTH * HEIGHT }, (_, at) => (at % WIDTH < 24 ? 0 : 255));

/**
 * The same as a bitmap coded with CCITT group 4: in the first row no white and 24 black (horizontal mode), then to the
 * end; every other row changes where the row above does (vertical mode, three times); end of block.
 */
export function group4(): Buffer {
  const bits = `001${'00110101'}${'00000010111'}1${'111'.repeat(HEIGHT - 1)}${'000000000001'.repeat(2)}`;
  const bytes = bits.padEnd(Math.ceil(bits.length / 8) * 8, '0').match(/.{8}/g) ?? [];
  return Buffer.from(bytes.map((byte) => parseInt(byte, 2)));
}

/** A JBIG2 stream as PDF embeds it: page information, and one generic region coded like CCITT group 4 (MMR). */
export function jbig2(coded: Buffer): Buffer {
  const segment = (number: number, type: number, data: Buffer) => {
    const header = Buffer.alloc(11);
    header.writeUInt32BE(number, 0);
    header[4] = type;
    header[6] = 1;
    header.writeUInt32BE(data.length, 7);
    return Buffer.concat([header, data]);
  };
  const page = Buffer.alloc(19);
  page.writeUInt32BE(WIDTH, 0);
  page.writeUInt32BE(HEIGHT, 4);
  const region = Buffer.alloc(18);
  region.writeUInt32BE(WIDTH, 0);
  region.writeUInt32BE(HEIGHT, 4);
  region[17] = 1;
  return Buffer.concat([segment(0, 48, page), segment(1, 38, Buffer.concat([region, coded]))]);
}
