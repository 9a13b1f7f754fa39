import { beforeAll, describe, expect, test } from 'vitest';
import { startedService } from '../service/started-service.ts';
import type { StartedService } from '../service/started-service.ts';
import { HAS_BROWSER, lookAt, personAt } from './person.ts';

const PASSWORD = 'ein Blatt bleibt stehen';

describe.skipIf(!HAS_BROWSER)('coming in', () => {
  let service: StartedService['service'];
  beforeAll(async () => {
    ({ service } = await startedService());
  });

  test('the first account brings in the other side, which opens a title with a part', async () => {
    const { page } = await personAt(service.origin);
    await page.goto(service.firstLink ?? '');
    await page.getByLabel('Your publishing house').fill('Offizin Weiher');
    await page.getByLabel('Your name').fill('Ada Weiher');
    await page.getByLabel('Your sign-in name').fill('ada');
    await page.getByLabel('Password').fill(PASSWORD);
    await lookAt(page, 'invitation');
    await page.getByRole('button', { name: 'Make the account' }).click();
    await page.getByRole('heading', { name: 'No title yet' }).waitFor();
    expect(page.url()).toBe(`${service.origin}/`);
    await page.getByRole('link', { name: 'New title' }).click();
    await page.getByRole('link', { name: 'Bring a party in' }).click();
    await page.getByRole('button', { name: 'Bring a party in' }).click();
    await page.getByLabel('Name of the party').fill('Verlag am Kai');
    await page.getByLabel('Its first person').fill('Bruno Kai');
    await page.getByRole('button', { name: 'Bring it in' }).click();
    const link = await page.getByLabel('Link').inputValue();
    await lookAt(page, 'people-link');
    await page.keyboard.press('Escape');
    await page.getByRole('listitem').filter({ hasText: 'Verlag am Kai' }).waitFor();
    await lookAt(page, 'people');

    const other = await personAt(service.origin);
    await other.page.goto(link);
    await other.page.getByText('For Bruno Kai, of Verlag am Kai.').waitFor();
    await other.page.getByLabel('Your sign-in name').fill('bruno');
    await other.page.getByLabel('Password').fill(PASSWORD);
    await other.page.getByRole('button', { name: 'Make the account' }).click();
    await other.page.getByRole('link', { name: 'New title' }).click();
    await other.page.getByLabel('Name of the title').fill('A Winter’s Round');
    await lookAt(other.page, 'new-title');
    await other.page.getByRole('button', { name: 'Open the title' }).click();
    await other.page.getByRole('button', { name: 'New part' }).click();
    await other.page.getByRole('button', { name: 'Open the part' }).click();
    await other.page.getByRole('heading', { name: 'Book block' }).waitFor();

    // The other side has it without anybody telling them.
    await page.getByRole('link', { name: 'Titles' }).click();
    await page.getByRole('link', { name: 'A Winter’s Round' }).click();
    await page.getByText('Verlag am Kai, printed by Offizin Weiher').waitFor();
    await lookAt(page, 'title');
  });

  test('a link that was used, and a password that is wrong, are told with what to do next', async () => {
    const { page } = await personAt(service.origin);
    await page.goto(`${service.origin}/invitation#${'A'.repeat(43)}`);
    await page.getByRole('alert').getByText('Opening the invitation: there is nothing of this name.').waitFor();
    // An address that is only for those who are in leads there after signing in.
    await page.goto(`${service.origin}/people`);
    await page.getByLabel('Your sign-in name').fill('ada');
    await page.getByLabel('Password').fill('not that one at all');
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByText('Please check the name and the password, or sign in again.').waitFor();
    expect(await page.evaluate(() => location.search)).toBe('?to=%2Fpeople');
    await lookAt(page, 'sign-in');
  });
});
