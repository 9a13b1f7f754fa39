import { expect, test } from 'vitest';
import { lookAt } from '../person.ts';
import { at, FAULTY, goOn, story } from './story.ts';
import { makeKey, signSheet } from './two-desks.ts';

/** What was signed gives way to what is signed later; both stay. */
export function changes(): void {
  test('another dummy takes the place of the one in force when both have signed that', async () => {
    const { ada, bruno, guest, ids } = story.desks;
    const newer = await story.desks.send(FAULTY, 'dummy', 'read', { name: 'newer.pdf' });
    const inForce = async (): Promise<unknown> =>
      ((await guest.get(`/api/parts/${ids.part}/state`)).json as { inForce: string }).inForce;
    for (const desk of [ada, bruno]) {
      expect(await inForce()).toBe(story.ids.dummy);
      await goOn(desk, at(`${newer}/sign`));
      const sheet = desk.page.getByRole('region', { name: 'Replace the dummy in force' });
      await sheet.getByLabel('Why').fill('The author wrote the second page anew.');
      await sheet.getByRole('button', { name: 'Go on' }).click();
      await signSheet(desk, 'Sign the replacement', sheet);
    }
    await bruno.page.getByText('In force: signed by both').waitFor();
    expect(await inForce()).toBe(newer);
    await goOn(bruno, at(`${story.ids.dummy}/sign`));
    await bruno.page.getByText('Another dummy has taken its place.').waitFor();
  });

  test('a lost key gives way to a new one: confirmed like the first, it revokes the old one', async () => {
    const { ada, bruno, ids } = story.desks;
    const keysOfTitle = `/titles/${ids.title}/keys`;
    await ada.page.goto('/keys');
    await ada.page.getByText('Nobody can bring a key back').waitFor();
    await ada.page.getByRole('button', { name: 'Make a key' }).click();
    await makeKey(ada, { isThere: true });
    await goOn(bruno, keysOfTitle);
    await bruno.page.getByRole('button', { name: 'Confirm this key' }).click();
    await bruno.page.getByLabel(`${ada.name} has read me this fingerprint`).check();
    await signSheet(bruno, 'Sign the confirmation');
    await goOn(ada, keysOfTitle);
    await ada.page.getByRole('article').filter({ hasText: ada.name }).nth(1).waitFor();
    await ada.page.getByRole('button', { name: 'Revoke it' }).first().click();
    await ada.page.getByLabel('Why').fill('The disk that it was on is gone.');
    await ada.page.getByRole('button', { name: 'Read what will be signed' }).click();
    await signSheet(ada, 'Sign the revocation');
    await ada.page.getByRole('article').filter({ hasText: 'Revoked from' }).waitFor();
    await lookAt(ada.page, 'keys-revoked');
    const { items } = (await ada.asks.get(`/api/titles/${ids.title}/certificates`)).json as {
      items: { state: string; name: string }[];
    };
    expect(items.filter(({ name }) => name === ada.name).map(({ state }) => state)).toEqual(['revoked', 'confirmed']);
  });
}
