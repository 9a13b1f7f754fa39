import { appendFileSync, mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { lookInto, settledFiles } from '../../../src/command/client/settled-files.ts';

let folder = '';
beforeEach(() => (folder = mkdtempSync(join(tmpdir(), 'witnessleaf-watch-'))));
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const put = (name: string, text: string, minute: number): void => {
  writeFileSync(join(folder, name), text);
  utimesSync(join(folder, name), new Date(0), new Date(minute * 60_000));
};

describe('a watched folder', () => {
  it('gives a file that is the same at two looks, and not one that still grows', async () => {
    put('whole.pdf', 'all of it', 1);
    put('growing.pdf', 'a beginning', 2);
    const before = await lookInto(folder);
    appendFileSync(join(folder, 'growing.pdf'), ' and more');
    const now = await lookInto(folder);
    expect(settledFiles(before, now).map(({ name }) => name)).toEqual(['whole.pdf']);
    expect(settledFiles(now, await lookInto(folder)).map(({ name }) => name)).toEqual(['whole.pdf', 'growing.pdf']);
  });

  it('gives the oldest first, so that revisions keep their order', async () => {
    put('b.pdf', 'second', 2);
    put('a.pdf', 'third', 3);
    put('c.pdf', 'first', 1);
    const seen = await lookInto(folder);
    expect(settledFiles(seen, seen).map(({ name }) => name)).toEqual(['c.pdf', 'b.pdf', 'a.pdf']);
  });

  it('passes over folders, hidden files and what is named as unfinished', async () => {
    mkdirSync(join(folder, 'sent'));
    for (const name of ['.hidden.pdf', '~lock.pdf', 'book.pdf.part', 'book.pdf.crdownload']) put(name, 'x', 1);
    expect(await lookInto(folder)).toEqual([]);
  });

  it('never takes an empty file for a whole one: a copy begins so', async () => {
    put('empty.pdf', '', 1);
    const seen = await lookInto(folder);
    expect(settledFiles(seen, seen)).toEqual([]);
  });

  it('takes a file that was replaced by another of the same size for a new one', async () => {
    put('book.pdf', 'one', 1);
    const before = await lookInto(folder);
    put('book.pdf', 'two', 2);
    expect(settledFiles(before, await lookInto(folder))).toEqual([]);
  });
});
