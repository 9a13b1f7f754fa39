import { PDFArray, PDFBool, PDFDict, PDFHexString, PDFName, PDFNumber, PDFRawStream, PDFString } from '@cantoo/pdf-lib';
import type { PDFObject } from '@cantoo/pdf-lib';
import { Refusal } from '../../model/index.ts';
import type { Book } from './book.ts';
import { inlineDict } from './content/inline-dict.ts';
import { readLiteralString } from './content/literal-string.ts';
import { decodeContent } from './content/page-content.ts';
import { byBytes, writeContent } from './content-hash.ts';
import { dataDigest } from './data-digest.ts';
import type { FilterStep } from './decode.ts';
import { HashWriter } from './hash-writer.ts';
import { dictEntry, entryOf, nameEntry, numberEntry, resolve } from './objects.ts';
import { layerStates } from './optional-content.ts';

/** Entries that draw nothing. */
const SILENT = new Set([
  'DL',
  'LastModified',
  'Length',
  'Metadata',
  'Parent',
  'PieceInfo',
  'StructParent',
  'StructParents',
  'Type',
]);
const OF_CODING = new Set(['DecodeParms', 'Filter']);
const DEFAULT_SPACES = ['DefaultCMYK', 'DefaultGray', 'DefaultRGB'];

type Container = PDFDict | PDFArray | PDFRawStream;
type Resources = PDFDict | undefined;

interface Known {
  readonly sha256: Buffer;
  /** The digest holds only where names are looked up in these resources; null: anywhere. */
  readonly under: { readonly resources: Resources } | null;
}

/**
 * Hashes the objects of a book as `witnessleaf-page/1` has them; each object once, however many pages share it.
 *
 * @source src/reading/pdf/page-hash.md; objects by ISO 32000-2 7.3
 */
export class ObjectHasher {
  readonly #book: Book;
  readonly #known = new Map<Container, Known>();
  /** Objects being walked, with their depth; meeting one again writes `^`. */
  readonly #open = new Map<Container, number>();
  /** Depth of the outermost open object that was met again since the current one was begun. */
  #outermost = Infinity;
  /** Whether the current object's digest leans on the resources of what surrounds it. */
  #leansOnResources = false;
  #work = 0;

  constructor(book: Book) {
    this.#book = book;
  }

  /** Begins a page: the count of its work starts anew. */
  beginPage(): void {
    this.#work = 0;
    this.#open.clear();
  }

  /** Writes a value of the file; references are followed. */
  writeValue(writer: HashWriter, given: PDFObject | undefined, resources: Resources): void {
    const object = resolve(this.#book.context, given);
    if (object instanceof PDFNumber) {
      writer.number(object.asNumber());
    } else if (object instanceof PDFName) {
      writer.name(object.decodeText());
    } else if (object instanceof PDFBool) {
      writer.boolean(object.asBoolean());
    } else if (object instanceof PDFHexString) {
      writer.string(object.asBytes());
    } else if (object instanceof PDFString) {
      writer.string(readLiteralString(Buffer.from(object.asString(), 'latin1'), 0).bytes);
    } else if (object instanceof PDFRawStream) {
      this.writeDenoted(writer, object, resources);
    } else if (object instanceof PDFDict || object instanceof PDFArray) {
      if (this.#isOpen(writer, object)) return;
      this.#within(object, () => this.#writeContainer(writer, object, resources));
    } else {
      writer.mark('n');
    }
  }

  /** Writes the digest of an object that is used by name, or of any stream. */
  writeDenoted(writer: HashWriter, given: PDFObject, resources: Resources, isGlyph = false): void {
    const object = resolve(this.#book.context, given);
    if (!(object instanceof PDFDict || object instanceof PDFArray || object instanceof PDFRawStream)) {
      const own = new HashWriter();
      this.writeValue(own, object, resources);
      writer.digest(own.done());
      return;
    }
    if (this.#isOpen(writer, object)) return;
    writer.digest(this.#digest(object, resources, isGlyph));
  }

  /** Writes a content stream's tokens and the colour spaces that stand in for the device's. */
  writeContent(writer: HashWriter, content: Uint8Array, resources: Resources): void {
    const { context } = this.#book;
    const layers = layerStates(this.#book);
    writeContent(writer, content, {
      resource: (category, name) => {
        const object = dictEntry(resources, category)?.get(PDFName.of(name));
        if (object === undefined || resolve(context, object) === undefined) return false;
        this.writeDenoted(writer, object, resources);
        return true;
      },
      isVisible: (name) => layers.isVisible(entryOf(dictEntry(resources, 'Properties'), name)),
      inlineImage: ({ inline }) => {
        if (inline === undefined) return;
        const dict = inlineDict(context, inline, resources);
        this.#writeStream(writer, dict, () => inline.data, resources);
      },
      count: () => this.#count(),
    });
    writer.mark('<');
    const spaces = dictEntry(resources, 'ColorSpace');
    for (const name of DEFAULT_SPACES) {
      const space = spaces?.get(PDFName.of(name));
      if (space === undefined) continue;
      writer.name(name);
      this.writeDenoted(writer, space, resources);
    }
    writer.mark('>');
  }

  #isOpen(writer: HashWriter, object: Container): boolean {
    const depth = this.#open.get(object);
    if (depth === undefined) return false;
    this.#outermost = Math.min(this.#outermost, depth);
    writer.mark('^');
    return true;
  }

  #within(object: Container, write: () => void): void {
    this.#count();
    this.#open.set(object, this.#open.size);
    write();
    this.#open.delete(object);
  }

  #digest(object: Container, resources: Resources, isGlyph: boolean): Buffer {
    const known = this.#known.get(object);
    if (known !== undefined && (known.under === null || known.under.resources === resources)) {
      if (known.under !== null) this.#leansOnResources = true;
      return known.sha256;
    }
    const outermost = this.#outermost;
    const leaned = this.#leansOnResources;
    this.#outermost = Infinity;
    this.#leansOnResources = false;
    const depth = this.#open.size;
    const writer = new HashWriter();
    this.#within(object, () => {
      if (!(object instanceof PDFRawStream)) this.#writeContainer(writer, object, resources);
      else if (isGlyph || isContent(object.dict)) this.#writeContentStream(writer, object, resources);
      else this.#writeStream(writer, object.dict, () => object.contents, resources);
    });
    const sha256 = writer.done();
    // What was met again further out makes this digest true only from here, so it is not kept.
    if (this.#outermost >= depth) {
      this.#known.set(object, { sha256, under: this.#leansOnResources ? { resources } : null });
      this.#outermost = outermost;
    } else {
      this.#outermost = Math.min(outermost, this.#outermost);
    }
    this.#leansOnResources ||= leaned;
    return sha256;
  }

  #writeContainer(writer: HashWriter, object: PDFDict | PDFArray, resources: Resources): void {
    if (object instanceof PDFArray) {
      writer.mark('[');
      for (const element of object.asArray()) this.writeValue(writer, element, resources);
      writer.mark(']');
    } else if (nameEntry(object, 'Subtype') === 'Type3') {
      this.#writeType3(writer, object, resources);
    } else {
      this.#writeEntries(writer, object, resources, (key) => SILENT.has(key));
    }
  }

  #writeEntries(
    writer: HashWriter,
    dict: PDFDict,
    resources: Resources,
    isLeftOut: (key: string) => boolean,
    special?: (key: string) => boolean,
  ): void {
    const entries = dict.entries().map(([key, value]) => [key.decodeText(), value] as const);
    writer.mark('<');
    for (const [key, value] of entries.sort(([one], [other]) => byBytes(one, other))) {
      if (isLeftOut(key) || resolve(this.#book.context, value) === undefined) continue;
      writer.name(key);
      if (special?.(key) === true) continue;
      if (key === 'OC') writer.boolean(layerStates(this.#book).isVisible(entryOf(dict, key)));
      else this.writeValue(writer, value, resources);
    }
    writer.mark('>');
  }

  /** A font whose glyphs are content: their names mean what the font's own resources say. */
  #writeType3(writer: HashWriter, font: PDFDict, outer: Resources): void {
    const resources = this.#ownResources(font, outer);
    const isLeftOut = (key: string): boolean => SILENT.has(key) || key === 'Resources';
    this.#writeEntries(writer, font, resources, isLeftOut, (key) => {
      const glyphs = key === 'CharProcs' ? dictEntry(font, key) : undefined;
      if (glyphs === undefined) return false;
      writer.mark('<');
      for (const name of glyphs
        .keys()
        .map((glyph) => glyph.decodeText())
        .sort(byBytes)) {
        const glyph = entryOf(glyphs, name);
        if (glyph === undefined) continue;
        writer.name(name);
        this.writeDenoted(writer, glyph, resources, true);
      }
      writer.mark('>');
      return true;
    });
  }

  #writeContentStream(writer: HashWriter, stream: PDFRawStream, outer: Resources): void {
    const resources = this.#ownResources(stream.dict, outer);
    writer.mark('C');
    const isLeftOut = (key: string): boolean => SILENT.has(key) || OF_CODING.has(key) || key === 'Resources';
    this.#writeEntries(writer, stream.dict, resources, isLeftOut);
    this.writeContent(writer, decodeContent(this.#book, stream, this.#book.limits.streamBytes), resources);
    // What lies inside looked its names up in these resources, which belong to this very object.
    if (resources !== outer) this.#leansOnResources = false;
  }

  #writeStream(writer: HashWriter, dict: PDFDict, coded: () => Uint8Array, resources: Resources): void {
    writer.mark('S');
    const isLeftOut = (key: string): boolean => SILENT.has(key) || OF_CODING.has(key);
    this.#writeEntries(writer, dict, resources, isLeftOut);
    const { sha256, left } = dataDigest(this.#book, { dict, coded });
    this.#writeFilters(writer, left, resources);
    writer.digest(sha256);
  }

  #writeFilters(writer: HashWriter, left: readonly FilterStep[], resources: Resources): void {
    writer.mark('[');
    for (const { name, parms } of left) {
      writer.name(name);
      this.writeValue(writer, parms, resources);
    }
    writer.mark(']');
  }

  #ownResources(dict: PDFDict, outer: Resources): Resources {
    const own = dictEntry(dict, 'Resources');
    if (own === undefined) this.#leansOnResources = true;
    return own ?? outer;
  }

  #count(): void {
    this.#work += 1;
    const limit = this.#book.limits.operators;
    if (this.#work > limit) {
      throw new Refusal('too-large', { what: 'the content', limit, found: this.#work, unit: 'operators' });
    }
  }
}

function isContent(dict: PDFDict): boolean {
  return nameEntry(dict, 'Subtype') === 'Form' || numberEntry(dict, 'PatternType') === 1;
}
