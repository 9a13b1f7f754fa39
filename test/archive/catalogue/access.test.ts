import { describe, expect, it } from 'vitest';
import { bookInCatalogue } from './filled-catalogue.ts';

const names = (parties: readonly { readonly name: string }[]): string[] => parties.map(({ name }) => name);
const BOTH = ['Blattwerk', 'Druckhaus Süd'];

describe('several calls together', () => {
  it('are seen by themselves at once, by others only at the end', async () => {
    const { catalogue } = await bookInCatalogue();
    const seen = await catalogue.together(async ({ parties }) => {
      await parties.add({ name: 'Studio', at: 9 });
      return [names(await parties.list()), names(await catalogue.parties.list())];
    });
    expect(seen).toEqual([[...BOTH, 'Studio'], BOTH]);
    expect(names(await catalogue.parties.list())).toEqual([...BOTH, 'Studio']);
  });

  it('leave nothing behind where one of them fails', async () => {
    const { catalogue } = await bookInCatalogue();
    const failing = catalogue.together(async ({ parties }) => {
      await parties.add({ name: 'Studio', at: 9 });
      await parties.add({ name: 'Studio', at: 9 });
    });
    await expect(failing).rejects.toThrow('UNIQUE constraint failed: party.name');
    expect(names(await catalogue.parties.list())).toEqual(BOTH);
    await catalogue.parties.add({ name: 'Studio', at: 9 });
  });

  it('wait for each other, so that none reads what the other is about to write', async () => {
    const { catalogue } = await bookInCatalogue();
    const countUp = (): Promise<void> =>
      catalogue.together(async ({ log }) => {
        const index = await log.size();
        await new Promise((later) => setTimeout(later, 1));
        const entry = { index, kind: 'upload', titleId: null, bytes: new Uint8Array(1), atMs: 9 };
        await log.append({ ...entry, leafHash: new Uint8Array(32) }, []);
      });
    await Promise.all(Array.from({ length: 10 }, countUp));
    expect(await catalogue.log.size()).toBe(10);
  });

  it('refuse a write that goes past them, which would wait for itself', async () => {
    const { catalogue } = await bookInCatalogue();
    const past = catalogue.together(async () => catalogue.parties.add({ name: 'Studio', at: 9 }));
    await expect(past).rejects.toThrow(/^a write past the transaction it is in$/);
  });

  it('refuse a call that comes after their end', async () => {
    const { catalogue } = await bookInCatalogue();
    const kept = await catalogue.together(async (tables) => tables);
    await expect(kept.parties.list()).rejects.toThrow(/^a call of a transaction that has ended$/);
  });
});
