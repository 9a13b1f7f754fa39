import { existsSync, readdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { lookOver, openCatalogue } from '../../../src/archive/catalogue/index.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { scratchFolder } from '../scratch.ts';
import { bookInCatalogue, fillUp } from './filled-catalogue.ts';

describe('a copy of the catalogue', () => {
  it('K13 made while it is written to holds one moment, and opens elsewhere with everything in it', async () => {
    const book = await bookInCatalogue();
    await fillUp(book);
    const { catalogue, title, dummy } = book;
    const copy = join(scratchFolder(), 'copy.sqlite');
    let isCopied = false;
    const writing = (async () => {
      let count = 0;
      for (; !isCopied; count += 1) {
        await catalogue.together(async ({ jobs }) => {
          for (const half of ['left', 'right']) {
            await jobs.add({ kind: 'report', key: `${count}/${half}`, order: null, at: 10 });
          }
        });
        await new Promise((later) => setImmediate(later));
      }
      return count;
    })();
    await catalogue.backUp(copy);
    isCopied = true;
    expect(await writing).toBeGreaterThan(0);

    const restored = await openCatalogue(copy, 20);
    expect(await restored.titles.get(title.id)).toEqual(title);
    expect(await restored.files.get(dummy.id)).toEqual(dummy);
    expect(await restored.statements.ofTitle(title.id)).toEqual(await catalogue.statements.ofTitle(title.id));
    const keys = (await restored.jobs.open())
      .map(({ key }) => key)
      .filter((key) => key.includes('/l') || key.includes('/ri'));
    expect(keys.length % 2).toBe(0);
    await restored.parties.add({ name: 'Goes on', at: 21 });
    restored.close();
    expect(lookOver(copy)).toEqual([]);
  });

  it('has everything that was acknowledged before it was asked for', async () => {
    const { catalogue } = await bookInCatalogue();
    await catalogue.parties.add({ name: 'Just now', at: 9 });
    const copy = join(scratchFolder(), 'copy.sqlite');
    await catalogue.backUp(copy);
    const restored = await openCatalogue(copy, 20);
    expect((await restored.parties.list()).map(({ name }) => name)).toContain('Just now');
    restored.close();
  });

  it('writes over nothing and leaves nothing unfinished', async () => {
    const { catalogue } = await bookInCatalogue();
    const copy = join(scratchFolder(), 'copy.sqlite');
    writeFileSync(copy, 'last week’s');
    expect(await laterRefusalOf(catalogue.backUp(copy))).toEqual({
      kind: 'malformed',
      pointer: copy,
      expected: 'a file that is not there yet',
      found: 'one that is',
    });
    await catalogue.backUp(`${copy}.2`);
    expect(readdirSync(dirname(copy)).sort()).toEqual(['copy.sqlite', 'copy.sqlite.2']);
    expect(existsSync(`${copy}.unfinished`)).toBe(false);
  });
});
