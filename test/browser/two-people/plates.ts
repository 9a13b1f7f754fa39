import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { StatementOf } from '../../../src/model/index.ts';
import { verifyPack } from '../../../src/reporting/index.ts';
import { scratchFolder } from '../../archive/scratch.ts';
import { screenPlates } from '../../archive/sheets/plate-book.ts';
import { FACE, smallPlan, writeSheetBook } from '../../archive/sheets/sheet-book.ts';
import { hasTool } from '../../reading/pdf/outside-tool.ts';
import { done } from '../../service/peopled-service.ts';
import { lookAt, personAt } from '../person.ts';
import { sendFile } from '../send-book.ts';
import { at, goOn, story } from './story.ts';
import { readSheet, signSheet } from './two-desks.ts';

const PAGES = 4;

/** Endpapers, which go to plates as one file for each ink. */
export function platesReleased(): void {
  const can = hasTool('gs', 'ghostscript') && hasTool('zip', 'zip');

  test.skipIf(!can)('the endpapers’ dummy is signed by both, and their plates are sent', async () => {
    const { ada, bruno, printer, ids } = story.desks;
    const made = await done(printer.send('POST', `/api/titles/${ids.title}/parts`, { kind: 'endpapers' }), 201);
    const part = (made as { id: string }).id;
    const folder = scratchFolder();
    const bookPath = await writeSheetBook(join(folder, 'book.pdf'), PAGES, FACE);
    const dummy = await sendFile(story.desks, bookPath, { part, kind: 'dummy', until: 'read', name: 'endpapers.pdf' });
    const of = await screenPlates(folder, bookPath, smallPlan(PAGES));
    const plates = readdirSync(of).filter((name) => name.includes('('));
    execFileSync('zip', ['-q', '-1', join(folder, 'plates.zip'), ...plates], { cwd: of });
    const hashOf = (name: string): string =>
      createHash('sha256')
        .update(readFileSync(join(of, name)))
        .digest('hex');
    story.plates = { part, dummy, file: '', hashes: plates.map(hashOf) };
    for (const desk of [ada, bruno]) {
      await goOn(desk, at(`${story.plates.dummy}/sign`));
      await signSheet(desk, 'Sign this dummy');
    }
    const told = { part, kind: 'plates-input', until: 'pictures', name: 'plates.zip' } as const;
    story.plates.file = await sendFile(story.desks, join(folder, 'plates.zip'), told);
  });

  test.skipIf(!can)('a release of plates is signed in the browser, every plate under its side and ink', async () => {
    const { ada, bruno, guest, archive } = story.desks;
    const { part, file, hashes } = story.plates;
    for (const desk of [ada, bruno]) {
      await goOn(desk, at(`${file}/release`));
      await desk.page.getByRole('heading', { name: 'What the release rests on' }).waitFor();
      await readSheet(desk);
      const inFull = await desk.page.getByRole('group', { name: 'The statement in full' }).innerText();
      for (const sha256 of hashes) expect(inFull.replaceAll(/\s/g, '')).toContain(sha256);
      if (desk === ada) await lookAt(desk.page, 'release-plates');
      await desk.page.getByRole('button', { name: 'Sign the release', exact: true }).click();
      await desk.page.getByText('Signed, and taken as entry').first().waitFor();
    }
    await bruno.page.getByText('Released to plates by both sides').waitFor();
    const state = (await guest.get(`/api/parts/${part}/state`)).json as {
      releases: { file: string; inForce: boolean; signatures: { statement: string }[] }[];
    };
    expect(state.releases).toMatchObject([{ file, inForce: true }]);
    const said = await Promise.all(
      state.releases[0]!.signatures.map(async ({ statement }) => {
        const kept = await archive.catalogue.statements.get(statement);
        return JSON.parse(Buffer.from(kept!.bytes).toString()) as StatementOf<'release'>;
      }),
    );
    expect(said).toHaveLength(2);
    for (const { subject } of said) {
      expect(subject.sheets?.map(({ sheet, side, plates }) => [sheet, side, plates.map(({ ink }) => ink)])).toEqual(
        ['front', 'back'].map((side) => [1, side, ['cyan', 'magenta', 'yellow', 'black']]),
      );
      const signed = subject.sheets?.flatMap(({ plates }) => plates.map(({ sha256 }) => sha256)) ?? [];
      expect(signed.toSorted()).toEqual(hashes.toSorted());
    }
  });

  test.skipIf(!can)(
    'a pack with plates and the book they fold to is checked on the page as by the command',
    async () => {
      const { origin, guest, ids, archive } = story.desks;
      const { part, file } = story.plates;
      const headers = { Cookie: guest.cookie };
      const answer = await fetch(`${origin}/api/titles/${ids.title}/evidence?part=${part}&contents=files`, { headers });
      const pack = join(scratchFolder(), 'pack.zip');
      writeFileSync(pack, Buffer.from(await answer.arrayBuffer()));
      const sent = await archive.catalogue.files.get(file);
      const folded = await archive.catalogue.foldedBooks.ofFile(file);
      const members = [`files/${sent!.sha256}.zip`, `files/${folded!.sha256}.pdf`, `files/${folded!.plan}.json`];
      const { checks } = await verifyPack(pack);
      expect(checks.filter(({ check }) => check.outcome !== 'holds')).toEqual([]);
      expect(checks.map(({ about }) => about)).toEqual(expect.arrayContaining(members));

      const { page } = await personAt(origin);
      await page.goto('/verify');
      await page.getByLabel('Evidence pack', { exact: true }).setInputFiles(pack);
      await page.getByText('Nothing is wrong').waitFor();
      await page.getByText(/checks that hold/).click();
      for (const member of members) await page.getByRole('row').filter({ hasText: member }).first().waitFor();
      await lookAt(page, 'verified-plates');
      // One byte of a plate.
      const bytes = readFileSync(pack);
      const head = await archive.blobs.lend(sent!.sha256, async (path) => readFileSync(path).subarray(0, 64));
      const place = bytes.indexOf(head) + 5000;
      bytes[place] = (bytes[place] ?? 0) ^ 1;
      const altered = join(scratchFolder(), 'altered.zip');
      writeFileSync(altered, bytes);
      await page.getByLabel('Evidence pack', { exact: true }).setInputFiles(altered);
      await page.getByText('Do not rely on this pack').waitFor();
      await page
        .getByRole('row')
        .filter({ hasText: members[0]! })
        .filter({ hasText: 'Does not hold' })
        .first()
        .waitFor();
    },
  );
}
