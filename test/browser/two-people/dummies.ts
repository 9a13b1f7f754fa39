import { expect, test } from 'vitest';
import { lookAt } from '../person.ts';
import { at, goOn, PAGES, story } from './story.ts';
import { signSheet } from './two-desks.ts';

/** A dummy becomes the contract, whatever a service shows or hides. */
export function dummies(): void {
  test('a service that writes another file into the draft is refused, and nothing is signed', async () => {
    const { page } = story.desks.ada;
    await goOn(story.desks.ada, at(`${story.ids.dummy}/sign`));
    const sent: string[] = [];
    page.on('request', (request) => request.method() === 'POST' && sent.push(new URL(request.url()).pathname));
    await page.route('**/drafts', async (route) => {
      const answer = await route.fetch();
      const { content, ...rest } = (await answer.json()) as { content: string };
      const said = JSON.parse(Buffer.from(content, 'base64').toString()) as { subject: { dummy: { sha256: string } } };
      said.subject.dummy.sha256 = 'f'.repeat(64);
      await route.fulfill({ json: { ...rest, content: Buffer.from(JSON.stringify(said)).toString('base64') } });
    });
    await page.getByRole('button', { name: 'Read what will be signed' }).click();
    await page.getByText('Nothing was signed: the draft is not what you were shown').waitFor();
    expect(await page.getByRole('row', { name: /The dummy’s bytes Does not hold/ }).count()).toBe(1);
    await lookAt(page, 'sign-lying-draft');
    await page.unroute('**/drafts');
    expect(sent.filter((path) => path.endsWith('/statements'))).toEqual([]);
  });

  test('a service that shows another past is refused before anything is drafted', async () => {
    const { page } = story.desks.ada;
    const kept = await page.evaluate(() => localStorage.getItem('witnessleaf head'));
    await page.route('**/api/log/consistency*', (route) => route.fulfill({ json: { note: '', proof: [] } }));
    await page.evaluate(() => undefined);
    // Something happens in the archive, so that there is something to prove.
    const longer = [...PAGES, { lines: ['One page too many'] }];
    story.ids.another = await story.desks.send(longer, 'dummy', 'read', { name: 'another.pdf' });
    await page.getByRole('button', { name: 'Read what will be signed' }).click();
    await page.getByText('Nothing was signed: the archive shows another past than before').waitFor();
    expect(await page.evaluate(() => localStorage.getItem('witnessleaf head'))).toBe(kept);
    await page.unroute('**/api/log/consistency*');
  });

  test('a dummy that was sent by mistake is taken back, signed with the reason, and stays in the record', async () => {
    const { page } = story.desks.ada;
    await goOn(story.desks.ada, at(`${story.ids.another}/sign`));
    await page.getByText('Take this dummy back').click();
    const sheet = page.getByRole('group').filter({ hasText: 'Take this dummy back' });
    await sheet.getByLabel('Why').fill('It has a page too many.');
    await sheet.getByRole('button', { name: 'Go on' }).click();
    await signSheet(story.desks.ada, 'Sign the withdrawal', sheet);
    await page.getByText('It was taken back before both had signed it.').waitFor();
    const state = (await story.desks.guest.get(`/api/parts/${story.desks.ids.part}/state`)).json;
    expect(state).toMatchObject({
      inForce: null,
      dummies: [{ file: story.ids.dummy }, { file: story.ids.another, standing: 'withdrawn' }],
    });
  });

  test('both sign the dummy off, each seeing in full what they sign, and it is in force', async () => {
    for (const desk of [story.desks.ada, story.desks.bruno]) {
      await goOn(desk, at(`${story.ids.dummy}/sign`));
      if (desk === story.desks.bruno) {
        await desk.page.getByRole('button', { name: 'Read what will be signed' }).click();
        await desk.page.getByText('I take this file as the signed dummy of the part').waitFor();
        await lookAt(desk.page, 'sign-off');
        await desk.page.getByRole('button', { name: 'Not yet' }).click();
      }
      await signSheet(desk, 'Sign this dummy');
    }
    await story.desks.bruno.page.getByText('In force: signed by both').waitFor();
    const state = (await story.desks.guest.get(`/api/parts/${story.desks.ids.part}/state`)).json;
    expect(state).toMatchObject({ inForce: story.ids.dummy });
  });
}
