import { readFile } from 'node:fs/promises';
import type { Request } from 'playwright-core';
import { expect, test } from 'vitest';
import { openKeyFile } from '../../../src/sealing/index.ts';
import { lookAt } from '../person.ts';
import { goOn, story } from './story.ts';
import { makeKey, openKey, signSheet } from './two-desks.ts';

/** Keys are made, opened, and confirmed by a fingerprint. */
export function keys(): void {
  test('a key is made and saved here; only its certificate goes to the archive', async () => {
    const { ada, bruno } = story.desks;
    const sent: string[] = [];
    const note = (request: Request): void => void sent.push(`${request.url()} ${request.postData() ?? ''}`);
    for (const { page } of [ada, bruno]) page.on('request', note);
    await Promise.all([makeKey(ada), makeKey(bruno)]);
    for (const { page } of [ada, bruno]) page.off('request', note);
    await lookAt(ada.page, 'keys-made');
    const file = new Uint8Array(await readFile(ada.keyFile));
    const opened = await openKeyFile(file, ada.passphrase);
    const { items } = (await ada.asks.get('/api/certificates')).json as { items: { der: string; name: string }[] };
    expect(items).toMatchObject([{ name: 'Ada Weiher', der: Buffer.from(opened.certificate).toString('base64') }]);
    const all = sent.join('\n');
    expect(all).toContain(items[0]?.der ?? '-');
    expect([ada, bruno].filter(({ passphrase }) => all.includes(passphrase))).toEqual([]);
    expect(all).not.toContain(Buffer.from(file).toString('base64').slice(200, 260));
    const kept = await ada.page.evaluate(() => JSON.stringify({ ...localStorage, ...sessionStorage }));
    expect(kept).toBe('{}');
  });

  test('a wrong passphrase is told kindly, and the next try opens', async () => {
    const { page } = story.desks.ada;
    await page.goto('/keys');
    await page.getByRole('button', { name: 'Open your key' }).click();
    await openKey(story.desks.ada, 'sieben Moewen, falsch');
    await page.getByText('you may try as often as you like').waitFor();
    await openKey(story.desks.ada);
    await page.getByText('Open on this page').waitFor();
  });

  test('each reads the fingerprint to the other, confirms it, and both count', async () => {
    const { ada, bruno, ids } = story.desks;
    const path = `/titles/${ids.title}/keys`;
    for (const [who, whose] of [
      [ada, bruno],
      [bruno, ada],
    ] as const) {
      await goOn(who, path);
      await who.page.getByRole('button', { name: 'Confirm this key' }).click();
      await who.page.getByLabel(`${whose.name} has read me this fingerprint`).check();
      if (who === ada) {
        await who.page.getByRole('button', { name: 'Read what will be signed' }).click();
        await who.page.getByText('I have compared the fingerprint').waitFor();
        await lookAt(who.page, 'keys-confirming');
        await who.page.getByRole('button', { name: 'Not yet' }).click();
      }
      await signSheet(who, 'Sign the confirmation');
    }
    await lookAt(bruno.page, 'keys-of-a-title');
    const { items } = (await ada.asks.get(`/api/titles/${ids.title}/certificates`)).json as {
      items: { state: string }[];
    };
    expect(items.map(({ state }) => state)).toEqual(['confirmed', 'confirmed']);
  });
}
