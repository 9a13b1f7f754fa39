import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { run } from '../../reading/pdf/outside-tool.ts';

/** Pixels as poppler draws them: RGB, row by row from the top left. */
export interface Drawn {
  readonly width: number;
  readonly height: number;
  readonly rgb: Uint8Array;
}

/** Draws the pages of a file as far as their CropBoxes reach, turned as they are looked at. */
export function drawnByPoppler(pdf: Uint8Array, resolution: number, pages: readonly [number, number]): Drawn[] {
  const folder = mkdtempSync(join(tmpdir(), 'drawn-'));
  try {
    writeFileSync(join(folder, 'in.pdf'), pdf);
    const range = ['-f', `${pages[0]}`, '-l', `${pages[1]}`];
    run('pdftoppm', ['-cropbox', '-r', `${resolution}`, ...range, join(folder, 'in.pdf'), join(folder, 'out')]);
    const drawn = readdirSync(folder).filter((name) => name.endsWith('.ppm'));
    return drawn.sort().map((name) => parsePpm(readFileSync(join(folder, name))));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function parsePpm(file: Buffer): Drawn {
  const head = /^P6\s(\d+)\s(\d+)\s255\s/.exec(file.toString('latin1', 0, 40))!;
  return { width: Number(head[1]), height: Number(head[2]), rgb: new Uint8Array(file.subarray(head[0].length)) };
}

/** The pixels that lie wholly between these edges, which need not be whole numbers; outside the picture there are none. */
export function cutOut(picture: Drawn, edges: { left: number; top: number; right: number; bottom: number }): Drawn {
  const near = 1e-6;
  const [x0, y0] = [Math.max(0, Math.ceil(edges.left - near)), Math.max(0, Math.ceil(edges.top - near))];
  const x1 = Math.max(x0, Math.min(picture.width, Math.floor(edges.right + near)));
  const y1 = Math.max(y0, Math.min(picture.height, Math.floor(edges.bottom + near)));
  const rgb = new Uint8Array((x1 - x0) * (y1 - y0) * 3);
  for (let y = y0; y < y1; y += 1) {
    rgb.set(picture.rgb.subarray((y * picture.width + x0) * 3, (y * picture.width + x1) * 3), (y - y0) * (x1 - x0) * 3);
  }
  return { width: x1 - x0, height: y1 - y0, rgb };
}

/** How many pixels of two pictures are not the same; all of them where the pictures are not of one size. */
export function differing(one: Drawn, other: Drawn): number {
  if (one.width !== other.width || one.height !== other.height) return Math.max(one.width * one.height, 1);
  if (Buffer.compare(one.rgb, other.rgb) === 0) return 0;
  let count = 0;
  for (let at = 0; at < one.rgb.length; at += 3) {
    const [r, g, b] = [at, at + 1, at + 2];
    if (one.rgb[r] !== other.rgb[r] || one.rgb[g] !== other.rgb[g] || one.rgb[b] !== other.rgb[b]) count += 1;
  }
  return count;
}

/** How many pixels have any colour but white. */
export function inked({ rgb }: Drawn): number {
  let count = 0;
  for (let at = 0; at < rgb.length; at += 3)
    if (rgb[at] !== 255 || rgb[at + 1] !== 255 || rgb[at + 2] !== 255) count += 1;
  return count;
}

/** What a code on a page says, as `zbarimg` reads it. */
export function codeOf(pdf: Uint8Array, pageNumber: number, resolution: number): string {
  const [drawn] = drawnByPoppler(pdf, resolution, [pageNumber, pageNumber]);
  const { width, height, rgb } = drawn!;
  const folder = mkdtempSync(join(tmpdir(), 'code-'));
  try {
    const path = join(folder, 'page.ppm');
    writeFileSync(path, Buffer.concat([Buffer.from(`P6\n${width} ${height}\n255\n`), rgb]));
    return run('zbarimg', ['-q', '--raw', '--oneshot', '-Sdisable', '-Sqrcode.enable', path]).trimEnd();
  } finally {
    rmSync(folder, { recursive: true });
  }
}
