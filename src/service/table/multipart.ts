import type { Readable } from 'node:stream';
import busboy from 'busboy';
import type { Request } from 'express';
import { Refusal } from '../../model/index.ts';

/** What may come before the file; a remark is the longest. */
const FIELD_BYTES = 64 * 2 ** 10;
const MOST_FIELDS = 20;

/** A form with one file: what was told before it, and its bytes while they arrive. */
export interface FormWithFile {
  readonly fields: Readonly<Record<string, string>>;
  /** As the sender's machine calls it. */
  readonly fileName: string;
  readonly bytes: AsyncIterable<Uint8Array>;
}

/**
 * Reads a form up to its file, which comes last, and hands its bytes on while they arrive. They end when the whole form
 * was in order, so nothing is taken of one that is not.
 *
 * @param use  reads the bytes to their end, or throws
 * @throws {Refusal} malformed: no form, no file, a field behind it, or too much in a field
 * @source RFC 7578
 */
export async function readForm<T>(request: Request, use: (form: FormWithFile) => Promise<T>): Promise<T> {
  const fields: Record<string, string> = {};
  const parser = parserOf(request);
  let isFileSeen = false;
  const wholeForm = new Promise<void>((done, fail) => {
    const refuse = (expected: string, found: string): void => fail(unfit(expected, found));
    parser.on('field', (name, value, { nameTruncated, valueTruncated }) => {
      if (nameTruncated || valueTruncated) refuse(`fields of at most ${FIELD_BYTES} bytes`, 'a longer one');
      else if (isFileSeen) refuse('the file as the last part', `${name.slice(0, 40)} behind it`);
      else fields[name] = value;
    });
    parser.on('filesLimit', () => refuse('one file', 'several'));
    parser.on('fieldsLimit', () => refuse(`at most ${MOST_FIELDS} fields`, 'more'));
    parser.on('error', (error) => refuse('a form with a file', error instanceof Error ? error.message : 'none'));
    parser.on('close', done);
    request.on('aborted', () => fail(new Error('the sender went away')));
  });
  const file = new Promise<{ readonly using: Promise<T> }>((seen) => {
    parser.on('file', (_name, bytes, { filename }) => {
      isFileSeen = true;
      const using = use({ fields, fileName: filename ?? '', bytes: upTo(bytes, wholeForm) });
      using.catch(() => bytes.resume());
      seen({ using });
    });
  });
  request.pipe(parser);
  try {
    const seen = await Promise.race([file, wholeForm.then(() => null)]);
    if (seen === null) throw unfit('a form with a file', 'no file');
    return await seen.using;
  } catch (error) {
    wholeForm.catch(() => undefined);
    request.unpipe(parser);
    request.resume();
    throw error;
  }
}

/** The bytes of the file, which end when what comes behind them has come to its end too. */
async function* upTo(bytes: Readable, wholeForm: Promise<void>): AsyncGenerator<Uint8Array> {
  wholeForm.catch((error: unknown) => bytes.destroy(error as Error));
  yield* bytes as AsyncIterable<Uint8Array>;
  await wholeForm;
}

function unfit(expected: string, found: string): Refusal {
  return new Refusal('malformed', { pointer: '/body', expected, found });
}

function parserOf(request: Request): busboy.Busboy {
  try {
    const limits = { files: 1, fields: MOST_FIELDS, fieldSize: FIELD_BYTES, parts: MOST_FIELDS + 1 };
    return busboy({ headers: request.headers, limits, defParamCharset: 'utf8' });
  } catch (error) {
    throw unfit('a form with a file', error instanceof Error ? error.message : 'none');
  }
}
