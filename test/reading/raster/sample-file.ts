import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PDFDocument, PDFName, type PDFContext, type PDFRef } from '@cantoo/pdf-lib';
import { openBook } from '../../../src/reading/index.ts';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';

type Literal = Parameters<PDFContext['obj']>[0];

/** One page of a sample file, boxes and content in points. */
export interface SamplePage {
  readonly media: readonly [number, number, number, number];
  readonly entries?: Readonly<Record<string, unknown>>;
  readonly resources?: Readonly<Record<string, unknown>>;
  readonly content: string;
}

/** Makes objects of a sample file. */
export interface SampleObjects {
  readonly context: PDFContext;
  /** Sets an entry of the document's catalog. */
  inCatalog(key: string, literal: unknown): void;
  stream(data: string | Uint8Array, entries?: Readonly<Record<string, unknown>>): PDFRef;
  object(literal: unknown): PDFRef;
}

const folder = mkdtempSync(join(tmpdir(), 'witnessleaf-raster-'));
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));
let files = 0;

/** Writes a PDF file made of raw objects and gives its path. */
export async function sampleFile(pages: (objects: SampleObjects) => readonly SamplePage[]): Promise<string> {
  const document = await PDFDocument.create();
  const { context, catalog } = document;
  const objects: SampleObjects = {
    context,
    inCatalog: (key, literal) => catalog.set(PDFName.of(key), context.obj(literal as Literal as never)),
    stream: (data, entries = {}) => context.register(context.stream(data, { ...(entries as object) })),
    object: (literal) => context.register(context.obj(literal as Literal as never)),
  };
  for (const { media, entries = {}, resources = {}, content } of pages(objects)) {
    const page = document.addPage([1, 1]);
    page.node.set(PDFName.of('MediaBox'), context.obj([...media]));
    page.node.set(PDFName.of('Resources'), context.obj(resources as Literal as never));
    page.node.set(PDFName.of('Contents'), objects.stream(content));
    for (const [key, value] of Object.entries(entries)) {
      page.node.set(PDFName.of(key), context.obj(value as Literal as never));
    }
  }
  files += 1;
  const path = join(folder, `sample-${files}.pdf`);
  writeFileSync(path, await document.save({ useObjectStreams: false, addDefaultPage: false }));
  return path;
}

/** A sample file held open. */
export async function openSample(pages: (objects: SampleObjects) => readonly SamplePage[]) {
  return openBook(await sampleFile(pages), DEFAULT_LIMITS);
}
