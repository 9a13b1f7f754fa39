import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import PDFDocument from 'pdfkit';
import { beforeAll, describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import { openBook } from '../../../src/reading/pdf/book.ts';
import { pageHash } from '../../../src/reading/pdf/page-hash.ts';
import { FEATURES, featurePdf, OTHER_PROFILE, PHOTO_PATH } from './feature-book.ts';
import type { Features } from './feature-book.ts';
import { bookOf, drawing, fileOf, greyImage, onePage, stream } from './hand-pdf.ts';
import { hasTool, run } from './outside-tool.ts';

async function hashesOf(path: string): Promise<readonly string[]> {
  const book = await openBook(path, DEFAULT_LIMITS);
  return Array.from({ length: book.pageCount }, (_, index) => pageHash(book, index + 1));
}

async function hashOf(bytes: Uint8Array): Promise<string> {
  return pageHash(await bookOf(bytes), 1);
}

/** A small book with embedded type and shared pictures, by a writer that is not ours. */
async function kitBook(): Promise<Buffer> {
  const document = new PDFDocument({ size: [400, 500], margin: 20 });
  const chunks: Buffer[] = [];
  document.on('data', (chunk: Buffer) => chunks.push(chunk));
  const ended = new Promise((resolve) => document.on('end', resolve));
  document.registerFont('sans', FEATURES.font);
  for (const page of [1, 2, 3]) {
    if (page > 1) document.addPage();
    document.save().rect(20, 20, 300, 200).clip().image(PHOTO_PATH, 0, 0, { width: 400 }).restore();
    document.font('sans').fontSize(14).text(`Leaf ${page}: café, Żółw, (paper)`, 20, 300);
    const fade = document.linearGradient(20, 350, 200, 350).stop(0, 'red').stop(1, 'blue', 0.5);
    document.rect(20, 350, 180, 60).fill(fade);
  }
  document.end();
  await ended;
  return Buffer.concat(chunks);
}

const RESAVES: Readonly<Record<string, readonly string[]>> = {
  'saved again': [],
  linearised: ['--linearize'],
  'with object streams': ['--object-streams=generate'],
  'without object streams': ['--object-streams=disable'],
  'with its streams unfolded': ['--stream-data=uncompress'],
  'with its streams compressed': ['--stream-data=compress'],
  'with its streams as they are': ['--stream-data=preserve'],
  'compressed harder': ['--recompress-flate', '--compression-level=9'],
  'written for reading (--qdf)': ['--qdf'],
  'with its content joined': ['--coalesce-contents'],
  'with what nobody uses taken out': ['--remove-unreferenced-resources=yes'],
};

const WEB_PAGE = `<h1 style="background:linear-gradient(red,blue);opacity:.7">Żółw, été</h1>
  <img src="file://${PHOTO_PATH}" style="width:300px;border-radius:40px;transform:rotate(12deg)">
  <div style="height:90px;background:url(file://${PHOTO_PATH}) 0 0/60px"></div>
  <svg width="90" height="90"><circle cx="45" cy="45" r="40" fill="green" /></svg>`;

const qpdf = hasTool('qpdf', 'qpdf');

describe.skipIf(!qpdf)('a page keeps its content hash when its file is', () => {
  const files = new Map<string, { path: string; hashes: readonly string[] }>();

  beforeAll(async () => {
    const feature = fileOf(featurePdf(), 'feature.pdf');
    const kit = fileOf(await kitBook(), 'kit.pdf');
    const distilled = `${kit}-distilled.pdf`;
    const cairo = `${kit}-cairo.pdf`;
    for (const path of [feature, kit]) files.set(path, { path, hashes: await hashesOf(path) });
    if (hasTool('chromium', 'chromium')) {
      const printed = `${kit}-printed.pdf`;
      writeFileSync(`${kit}.html`, WEB_PAGE);
      run('chromium', ['--headless', '--no-sandbox', `--print-to-pdf=${printed}`, `file://${kit}.html`]);
      files.set(printed, { path: printed, hashes: await hashesOf(printed) });
    }
    if (hasTool('gs', 'ghostscript')) {
      run('gs', ['-q', '-dNOPAUSE', '-dBATCH', '-sDEVICE=pdfwrite', `-sOutputFile=${distilled}`, kit]);
      files.set(distilled, { path: distilled, hashes: await hashesOf(distilled) });
    }
    if (hasTool('pdftocairo', 'poppler-utils')) {
      run('pdftocairo', ['-pdf', feature, cairo]);
      files.set(cairo, { path: cairo, hashes: await hashesOf(cairo) });
    }
  });

  it.each(Object.entries(RESAVES))('%s', async (_, options) => {
    for (const { path, hashes } of files.values()) {
      const saved = `${path}-saved.pdf`;
      run('qpdf', [...options, path, saved]);
      expect(await hashesOf(saved)).toEqual(hashes);
    }
    expect(files.size).toBeGreaterThan(1);
  });

  it('given a new page tree', async () => {
    for (const { path, hashes } of files.values()) {
      const saved = `${path}-saved.pdf`;
      run('qpdf', [path, '--pages', path, '1-z', '--', saved]);
      expect(await hashesOf(saved)).toEqual(hashes);
    }
  });

  it('taken apart and put together in another order', async () => {
    const [, kit] = [...files.values()];
    const saved = `${kit!.path}-turned.pdf`;
    run('qpdf', ['--empty', '--pages', kit!.path, '3,1,2', '--', saved]);
    expect(await hashesOf(saved)).toEqual([kit!.hashes[2], kit!.hashes[0], kit!.hashes[1]]);
  });
});

describe('a page gets another content hash when', () => {
  const swapped = (from: string, to: string): Partial<Features> => {
    expect(FEATURES.content).toContain(from);
    return { content: FEATURES.content.replace(from, to) };
  };
  const flipped = (bytes: Buffer, at: number): Buffer => {
    const copy = Buffer.from(bytes);
    copy[at] = copy[at]! ^ 1;
    return copy;
  };
  const changes: Readonly<Record<string, Partial<Features>>> = {
    'a byte of a JPEG changes': { photo: flipped(FEATURES.photo, 90_000) },
    'a sample of a compressed picture changes': { pixels: flipped(FEATURES.pixels, 17) },
    'a sample of a soft mask changes': { mask: flipped(FEATURES.mask, 40) },
    'what a soft mask group draws changes': { groupMask: '0.6 g 0 0 200 200 re f' },
    'a picture moves by a tenth of a point': swapped('20 20 cm /Photo', '20 20.1 cm /Photo'),
    'two operators change places': swapped('1 0 0 RG 2 w', '2 w 1 0 0 RG'),
    'a clip widens': swapped('20 100 60 60 re W', '20 100 61 60 re W'),
    'a clip counts inside otherwise': swapped('60 60 re W n', '60 60 re W* n'),
    'a letter changes': swapped('(x) -120', '(y) -120'),
    'a colour changes': swapped('0.2 0.4 0.6 scn', '0.2 0.4 0.7 scn'),
    'a byte of the font program changes': { font: flipped(FEATURES.font, 5000) },
    'the profile is another': { profile: OTHER_PROFILE },
    'a spot colour is another': { flat: '[/Separation/Silver/DeviceCMYK 17 0 R]' },
    'a colour of a palette changes': { palette: '[/Indexed/DeviceRGB 1 <ff0000 00fe00>]' },
    'a form draws another thing': { form: '0 0 1 rg 0 0 20 21 re f' },
    'a form is clipped otherwise': { formBox: '[0 0 30 29]' },
    'a pattern cell changes': { cell: '1 0 0 rg 2 2 4 5 re f' },
    'a shading ends in another colour': { shading: '/C0[1 0 0]/C1[0 1 1]' },
    'a drawn glyph changes': { glyph: '700 0 0 0 600 600 d1 0 0 600 500 re f' },
    'a layer is switched off': { layers: '/OFF[20 0 R]' },
    'a printed annotation looks otherwise': { appearance: '0 1 1 rg 0 0 10 10 re f' },
    'a printed annotation moves': { annotation: '/F 4/Rect[180 180 190 191]' },
    'an annotation prints no more': { annotation: '/F 0/Rect[180 180 190 190]' },
    'an inline picture changes': swapped('00FF8040>', '00FF8041>'),
    'the TrimBox changes': { boxes: '/MediaBox[0 0 200 200]/TrimBox[10 10 190 191]' },
    'the page is turned': { boxes: `${FEATURES.boxes}/Rotate 90` },
    'the unit changes': { boxes: `${FEATURES.boxes}/UserUnit 2` },
  };

  it.each(Object.entries(changes))('%s', async (_, change) => {
    expect(await hashOf(featurePdf(change))).not.toBe(await hashOf(featurePdf()));
  });

  it('no two of these changes give the same hash', async () => {
    const all: string[] = [];
    for (const change of Object.values(changes)) all.push(await hashOf(featurePdf(change)));
    expect(new Set(all).size).toBe(Object.keys(changes).length);
  });
});

describe('a page keeps its content hash when', () => {
  const same: Readonly<Record<string, Partial<Features>>> = {
    'a box is written with its corners turned': { boxes: '/MediaBox[200 200 0 0]/TrimBox[190 10 10 190]' },
    'a default is written out': { boxes: `${FEATURES.boxes}/CropBox[0 0 200 200]/Rotate 0/UserUnit 1.0` },
    'numbers are written otherwise': {
      content: FEATURES.content
        .replace('60 0 0 40.0 20 20 cm', '+60.00 0 -0 40. 020 20.0 cm')
        .replace('.7 scn', '0.70 scn'),
    },
    'strings are written otherwise': {
      content: FEATURES.content
        .replace('(A\\(b\\)\\303\\251\\\n c)', '<4128 6229C3A92063>')
        .replace('<4142>', '(\\101B)'),
    },
    'comments and line ends are added': { content: FEATURES.content.replace(/\n(?=[/qB])/g, '\r\n% a remark\r\n') },
    'an annotation does not print': { annotation: '/F 4/Rect[190 190 180 180]' },
    'a layer that is not used is switched on': { layers: '' },
    'a marked content tag changes': { content: FEATURES.content.replace('/MCID 1', '/MCID 7') },
  };

  it.each(Object.entries(same))('%s', async (_, change) => {
    expect(await hashOf(featurePdf(change))).toBe(await hashOf(featurePdf()));
  });

  it('its stream is split between two tokens', async () => {
    const whole = onePage('/MediaBox[0 0 9 9]/Contents 4 0 R', { 4: stream('', '0 0 5 5 re f') });
    const split = onePage('/MediaBox[0 0 9 9]/Contents[4 0 R 5 0 R]', {
      4: stream('', '0 0 5'),
      5: stream('', '5 re f'),
    });
    expect(await hashOf(split)).toBe(await hashOf(whole));
  });

  it('its resources get other names and other numbers', async () => {
    const one = drawing('/A Do /B Do', '/XObject<</A 5 0 R/B 6 0 R>>', {
      5: greyImage(2, 2, 1),
      6: greyImage(2, 2, 2),
    });
    const other = drawing('/Z Do /A Do', '/XObject<</A 9 0 R/Z 8 0 R>>', {
      8: greyImage(2, 2, 1),
      9: greyImage(2, 2, 2),
    });
    expect(await hashOf(other)).toBe(await hashOf(one));
  });

  it('but not when two pictures are exchanged under their names', async () => {
    const one = drawing('/A Do /B Do', '/XObject<</A 5 0 R/B 6 0 R>>', {
      5: greyImage(2, 2, 1),
      6: greyImage(2, 2, 2),
    });
    const other = drawing('/A Do /B Do', '/XObject<</A 6 0 R/B 5 0 R>>', {
      5: greyImage(2, 2, 1),
      6: greyImage(2, 2, 2),
    });
    expect(await hashOf(other)).not.toBe(await hashOf(one));
  });
});

describe('the specification', () => {
  const text = readFileSync(new URL('../../../src/reading/pdf/page-hash.md', import.meta.url), 'utf8');
  const bytesOf = (name: string): Buffer => {
    const dump = new RegExp('```\\n' + name + '\\n([^`]*)```').exec(text)?.[1] ?? '';
    return Buffer.from(dump.replace(/\s/g, ''), 'hex');
  };
  const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

  it('gives an example whose bytes have the hash that it says', () => {
    expect(text).toContain(`Its SHA-256 is \`${sha256(bytesOf('image'))}\``);
    expect(text).toContain(`the page's hash: \`${sha256(bytesOf('page'))}\``);
    expect(bytesOf('page').includes(Buffer.from(sha256(bytesOf('image')), 'hex'))).toBe(true);
  });

  it('gives the hash that a file made after it has', async () => {
    const file = onePage('/MediaBox[0 0 72 36]/Contents 4 0 R/Resources<</XObject<</Im0 5 0 R>>>>', {
      4: stream('', 'q 36.0 0 0 +36 0 0 cm /Im0 Do Q'),
      5: greyImage(1, 1, 0x80),
    });
    expect(await hashOf(file)).toBe(sha256(bytesOf('page')));
  });

  it('can be computed with a shell alone', () => {
    const script = `printf '%s' "$1" | sed 's/../\\\\x&/g' | xargs -0 printf '%b' | sha256sum | cut -d' ' -f1`;
    const printed = execFileSync('bash', ['-c', script, 'hash', bytesOf('page').toString('hex')], { encoding: 'utf8' });
    expect(printed.trim()).toBe(sha256(bytesOf('page')));
  });
});

it('a page of the whole feature file has this hash in every version of the tool', async () => {
  expect(await hashOf(featurePdf())).toBe('b062a35c18d53d0b62dc41f234bf90026701121d6eb01dddc1af5773a22f8652');
});
