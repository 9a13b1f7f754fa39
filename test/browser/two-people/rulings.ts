import { expect, test } from 'vitest';
import { done, PASSWORD } from '../../service/peopled-service.ts';
import { lookAt } from '../person.ts';
import { at, FAULTY, goOn, HOSTILE, MENDED, readRuling, rule, story } from './story.ts';
import { anotherDesk, signAtOnce, signSheet } from './two-desks.ts';

/** What differs is decided together, and what is agreed goes to plates. */
export function rulings(): void {
  test('a hostile name and remark are words on the page, and nothing more', async () => {
    const told = { name: HOSTILE.replaceAll('/', '∕'), remark: '<script>alert(3)</script><b onclick=alert(4)>so</b>' };
    story.ids.faulty = await story.desks.send(FAULTY, 'plates-input', 'pictures', told);
    const { page } = story.desks.bruno;
    await goOn(story.desks.bruno, at(`${story.ids.faulty}/findings`));
    await page.getByText('<img src=x onerror=alert(1)>').first().waitFor();
    await page.getByRole('article').first().getByRole('link').first().click();
    await page.getByText('<script>alert(3)</script><b onclick=alert(4)>so</b>').waitFor();
    expect(await page.locator('main script, main [onclick], main [onerror]').count()).toBe(0);
  });

  test('two findings are ruled on in one statement, on a phone', async () => {
    const { page } = story.desks.bruno;
    await goOn(story.desks.bruno, at(`${story.ids.faulty}/findings`));
    await page.getByRole('heading', { name: 'Page 2' }).waitFor();
    await page.setViewportSize({ width: 390, height: 844 });
    await page.getByRole('button', { name: 'Choose all 2 shown' }).click();
    await lookAt(page, 'findings');
    await page.setViewportSize({ width: 390, height: 844 });
    await page.getByRole('button', { name: 'Rule on them' }).click();
    await rule(story.desks.bruno, 'To be put right', 'Printer’s error');
    const findings = (await story.desks.guest.get(`/api/files/${story.ids.faulty}/findings`)).json as {
      items: { ruling: { state: string; publisher: { statement: string } } }[];
    };
    expect(findings.items.map(({ ruling }) => ruling.state)).toEqual(['one-side', 'one-side']);
    expect(new Set(findings.items.map(({ ruling }) => ruling.publisher.statement)).size).toBe(1);
    await page.getByRole('button', { name: 'Back to the findings' }).click();
    await page.getByText('None chosen').waitFor();
  });

  test('a conflicting word stands next to the other, and a conversation settles it', async () => {
    const { ada } = story.desks;
    await goOn(ada, at(`${story.ids.faulty}/findings`));
    await ada.page.getByRole('link', { name: /pier/ }).first().click();
    await ada.page.getByRole('heading', { name: 'Your side’s word' }).waitFor();
    const finding = new URL(ada.page.url()).pathname;
    await rule(ada, 'Agreed', 'Author’s alteration');
    await ada.page.getByText('The rulings conflict').first().waitFor();
    const next = ada.page.getByRole('link', { name: 'The next one that waits for your side' });
    expect((await next.getAttribute('href'))?.endsWith(`/findings/${await evening()}`)).toBe(true);
    await lookAt(ada.page, 'finding-conflict');

    // The session runs out while a remark is written.
    const { page } = ada;
    await page.getByLabel('Say something about it').fill('The author wrote “pier” in the proofs of May.');
    await done(story.desks.printer.send('DELETE', '/api/sessions/mine'), 204);
    await page.getByRole('button', { name: 'Say it' }).click();
    await page.getByRole('heading', { name: 'Please sign in again' }).waitFor();
    expect(await page.getByLabel('Say something about it').inputValue()).toContain('“pier”');
    await page.getByLabel('Your sign-in name').fill('ada');
    await page.getByLabel('Password').fill(PASSWORD);
    await page.getByRole('dialog').getByRole('button', { name: 'Sign in' }).click();
    await page.locator('.talk').getByText('in the proofs of May').waitFor();
    const remarks = await story.desks.archive.catalogue.remarks.onFinding(finding.split('/').at(-1) ?? '');
    expect(remarks.map(({ text }) => text)).toEqual(['The author wrote “pier” in the proofs of May.']);
    expect(await page.getByLabel('Say something about it').inputValue()).toBe('');
    await done(story.desks.printer.send('POST', '/api/sessions', { signInName: 'ada', password: PASSWORD }), 201);
  });

  test('with open findings nothing is released, and each is named where it can be ruled on', async () => {
    const { ada, bruno } = story.desks;
    await goOn(ada, at(`${story.ids.faulty}/release`));
    await ada.page.getByText('Not to be released yet: 2 findings are not agreed by both').waitFor();
    expect(await ada.page.getByRole('button', { name: 'Read what will be signed' }).count()).toBe(0);
    await lookAt(ada.page, 'release-hindered');
    await goOn(bruno, at(`${story.ids.faulty}/release`));
    await bruno.page.getByRole('link', { name: /pier/ }).click();
    await bruno.page.getByRole('heading', { name: 'Your side’s word' }).waitFor();
    await rule(bruno, 'Agreed', 'Author’s alteration');
    await bruno.page.getByText('Settled').first().waitFor();
    await bruno.page.getByText('No other finding of this file waits for your side.').waitFor();
  });

  test('both sides sign at the same moment: both words stand, and each is told what the other says', async () => {
    const { ada, bruno } = story.desks;
    const finding = await evening();
    for (const [desk, account] of [
      [ada, 'Author’s alteration'],
      [bruno, 'Shared'],
    ] as const) {
      await goOn(desk, at(`${story.ids.faulty}/findings/${finding}`));
      await readRuling(desk, 'To be put right', account);
    }
    await signAtOnce([ada, bruno]);
    for (const { page } of [ada, bruno]) await page.getByText('Signed, and taken as entry').waitFor();
    for (const [{ page }, other, account] of [
      [ada, 'Verlag am Kai', 'Shared'],
      [bruno, 'Offizin Weiher', 'Author’s alteration'],
    ] as const) {
      const told = page.getByRole('status').filter({ hasText: `${other} has ruled in the meantime` });
      await told.getByText(`To be put right · ${account}`).waitFor();
      await told.getByText('both words stand next to each other').waitFor();
      await page.getByText('The rulings conflict').first().waitFor();
    }
    expect(await rulingOn(finding)).toMatchObject({
      state: 'conflicting',
      printer: { decision: 'to-be-put-right', account: 'authors-alteration' },
      publisher: { decision: 'to-be-put-right', account: 'shared' },
    });
  });

  test('two of one side sign at the same moment: one is taken, the other is told what is safe and how to go on', async () => {
    const finding = await evening();
    const desks = [story.desks.ada, await anotherDesk(story.desks.ada)];
    for (const [index, desk] of desks.entries()) {
      await goOn(desk, at(`${story.ids.faulty}/findings/${finding}`));
      await readRuling(desk, 'To be put right', ['Shared', 'Printer’s error'][index] ?? '');
    }
    await signAtOnce(desks);
    const isTaken = await Promise.all(
      desks.map(async ({ page }) => {
        const taken = page.getByText('Signed, and taken as entry');
        await taken.or(page.getByRole('alert')).first().waitFor();
        return taken.isVisible();
      }),
    );
    expect(isTaken.toSorted()).toEqual([false, true]);
    const { page } = desks[isTaken.indexOf(false)]!;
    const [kept, refused] = isTaken[0]! ? ['Shared', 'Printer’s error'] : ['Printer’s error', 'Shared'];
    await page.getByRole('alert').getByText('Signing: things have moved on').waitFor();
    await page.getByRole('alert').getByText('Nothing of yours was lost, and nothing was changed').waitFor();
    const told = page.getByRole('status').filter({ hasText: 'Somebody of your side has ruled in the meantime' });
    await told.getByText(`To be put right · ${kept}`).waitFor();
    expect((await rulingOn(finding)).printer.account).toBe(kept === 'Shared' ? 'shared' : 'printers-error');
    // What was chosen is still chosen, and is read and signed anew by who still means it.
    expect(await page.getByRole('radio', { name: refused }).isChecked()).toBe(true);
    await signSheet(desks[isTaken.indexOf(false)]!, 'Sign the ruling');
    await expect
      .poll(async () => (await rulingOn(finding)).printer.account)
      .toBe(kept === 'Shared' ? 'printers-error' : 'shared');
  });

  test('the mended plates input is released by both, with what it rests on', async () => {
    story.ids.mended = await story.desks.send(MENDED, 'plates-input', 'pictures', { name: 'mended.pdf' });
    for (const desk of [story.desks.ada, story.desks.bruno]) {
      await goOn(desk, at(`${story.ids.mended}/release`));
      await desk.page.getByRole('heading', { name: 'What the release rests on' }).waitFor();
      await signSheet(desk, 'Sign the release');
    }
    await story.desks.bruno.page.getByText('Released to plates by both sides').waitFor();
    await lookAt(story.desks.bruno.page, 'released');
    const state = (await story.desks.guest.get(`/api/parts/${story.desks.ids.part}/state`)).json;
    expect(state).toMatchObject({
      releases: [{ file: story.ids.mended, inForce: true, rulings: [expect.any(String), expect.any(String)] }],
    });
  });
}

interface FoundHere {
  readonly id: string;
  readonly finding: { readonly dummyPage: number };
  readonly ruling: {
    readonly state: string;
    readonly printer: { readonly account: string };
    readonly publisher: { readonly account: string };
  };
}

async function foundHere(): Promise<readonly FoundHere[]> {
  const { json } = await story.desks.guest.get(`/api/files/${story.ids.faulty}/findings`);
  return (json as { items: readonly FoundHere[] }).items;
}

/** The finding on the second page. */
async function evening(): Promise<string> {
  return (await foundHere()).find(({ finding }) => finding.dummyPage === 2)?.id ?? '';
}

async function rulingOn(finding: string): Promise<FoundHere['ruling']> {
  const found = (await foundHere()).find(({ id }) => id === finding);
  if (found === undefined) throw new Error('no such finding');
  return found.ruling;
}
