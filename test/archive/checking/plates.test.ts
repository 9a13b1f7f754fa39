import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, mkdirSync, readdirSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import {
  arePlates,
  blobPages,
  bookPages,
  draftStatement,
  fileFindings,
  readReport,
  sheetsOfFile,
  sidesOf,
} from '../../../src/archive/index.ts';
import type { SentFile } from '../../../src/archive/index.ts';
import { releasedSides, type StatementOf } from '../../../src/model/index.ts';
import { makeEvidencePack, openReportPdfs, verifyPack } from '../../../src/reporting/index.ts';
import { sayStatement } from '../../../src/sealing/index.ts';
import { hasTool, run } from '../../reading/pdf/outside-tool.ts';
import { bareTools, runScript, unpack, wholeOf } from '../../reporting/evidence-pack/unpacked.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { scratchFolder } from '../scratch.ts';
import { greysOf, screenPlates, separatedPdf, writePlate } from '../sheets/plate-book.ts';
import { FACE, smallPlan, told, writeSheetBook } from '../sheets/sheet-book.ts';
import { AT, sendSigned, stateIt, twoParties } from '../two-parties.ts';
import { openFileDesk } from './file-desk.ts';
import type { FileDesk } from './file-desk.ts';

const SPOT = 'Leuchtrot 4';
const PAGES = 4;
const INKS = ['Cyan', 'Magenta', 'Yellow', 'Black'];

/** Packs what lies in a folder by Info-ZIP, as people do. */
function zipped(folder: string): string {
  const to = `${folder}.zip`;
  execFileSync('zip', ['-q', '-r', to, '.'], { cwd: folder });
  return to;
}

const TOOLS = { gs: 'ghostscript', zip: 'zip', unzip: 'unzip', pdftotext: 'poppler-utils' };
const hasTools = Object.entries(TOOLS).every(([command, from]) => hasTool(command, from));

describe.skipIf(!hasTools)('a plates input of separations', () => {
  const folder = scratchFolder();
  const plates = join(folder, 'plates');
  const bookPath = join(folder, 'book.pdf');
  const at = (...names: string[]): string => join(folder, ...names);

  beforeAll(async () => {
    await writeSheetBook(bookPath, PAGES, FACE);
    await screenPlates(folder, bookPath, smallPlan(PAGES));
    // a spot colour beside the four, and what programs leave beside what somebody packed
    const { width, height } = await greysOf(at('plates', 'demo_1(Black).tif'));
    const data = Buffer.alloc(width * height, 255);
    for (let y = 2000; y < 2600; y++) data.fill(80, y * width + 3100, y * width + 3400);
    await writePlate(at('plates', `demo_1(${SPOT}).tif`), { width, height, data });
    mkdirSync(at('plates', '__MACOSX'));
    writeFileSync(at('plates', '__MACOSX', '._demo_1(Cyan).tif'), 'no picture');
    writeFileSync(at('plates', 'job ticket.txt'), 'for the platesetter');
  }, 120_000);

  /** Plates without what is not one, with something wrong. */
  function changed(name: string, change: (plate: (file: string) => string) => void): string {
    cpSync(plates, at(name), { recursive: true });
    change((file) => at(name, file));
    return zipped(at(name));
  }

  async function failed({ archive }: FileDesk, { id }: SentFile): Promise<string | null> {
    return (await archive.catalogue.jobs.byKey(`read/${id}`))?.cause ?? null;
  }

  test('that is a ZIP is put into sides, compared, released plate by plate, and proved; bad ones hold up nobody', async () => {
    const parties = await twoParties();
    const desk = await openFileDesk({}, parties);
    const { catalogue, blobs } = parties.archive;
    const input = (path: string) => desk.sendFile(path, { kind: 'plates-input', name: basename(path) });
    const dummy = await desk.sendFile(bookPath, { kind: 'dummy' });
    const short = await input(changed('short', (plate) => truncateSync(plate('demo_2(Cyan).tif'), 40_000)));
    const strange = changed('named', (plate) => cpSync(plate('demo_1(Cyan).tif'), plate('aa-bb(Cyan).tif')));
    const bytes = readFileSync(strange, 'latin1').replaceAll('aa-bb(Cyan)', '../bb(Cyan)');
    writeFileSync(strange, bytes, 'latin1');
    const hostile = await input(strange);
    const good = zipped(plates);
    const asRevision = await desk.sendFile(good, { name: 'plates.zip' });
    const file = await input(good);
    await desk.workOff();

    expect(await failed(desk, short)).toMatch(/^short\.zip: demo_2\(Cyan\)\.tif: it is truncated/);
    expect(await failed(desk, hostile)).toMatch(/^named\.zip: invalid relative path: \.\.\/bb\(Cyan\)\.tif/);
    expect(await failed(desk, asRevision)).toBe('plates.zip: it is plates, which only a whole plates input can be');

    const [kept] = await catalogue.reports.onFile(file.id);
    const report = await readReport(blobs, kept!.sha256);
    expect([report.verdict, told(report)]).toEqual(['match', []]);
    expect(report.sheets!.separations!.map(({ side, ink }) => `${side} ${ink}`)).toEqual([
      ...[...INKS.map((ink) => ink.toLowerCase()), SPOT].map((ink) => `front ${ink}`),
      ...INKS.map((ink) => `back ${ink.toLowerCase()}`),
    ]);
    // What is signed is every plate, by the bytes that anybody can hash.
    const signed = (await blobPages(catalogue, file.sha256))!.map(({ contentHash }) => contentHash);
    const names = readdirSync(plates).filter((name) => name.endsWith('.tif'));
    const hashOf = (name: string): string =>
      createHash('sha256')
        .update(readFileSync(join(plates, name)))
        .digest('hex');
    expect(signed).toEqual(names.sort().map(hashOf));
    // Plates are no pages to be seen; sides and pages are those that they print together.
    expect(await arePlates(parties.archive, file, (await blobPages(catalogue, file.sha256))!)).toBe(true);
    expect(await arePlates(parties.archive, file, (await bookPages(catalogue, file))!)).toBe(false);
    expect([(await sidesOf(catalogue, file))?.length, (await bookPages(catalogue, file))?.length]).toEqual([2, 4]);

    // On paper both sides are drawn, and every plate is told.
    const tools = { pool: desk.order.pool, limits: desk.order.limits };
    const pdfs = openReportPdfs({ archive: parties.archive, tools, factsFolder: at('kept') });
    writeFileSync(at('report.pdf'), await pdfs.reportPdf(kept!));
    const text = run('pdftotext', [at('report.pdf'), '-']).replaceAll(/\s+/g, ' ');
    for (const { ink, sha256 } of report.sheets!.separations!) {
      expect(text).toContain(ink === SPOT ? `${SPOT} (spot colour)` : ink);
      expect(text.replaceAll(' ', '')).toContain(sha256);
    }
    expect(run('pdfimages', ['-list', at('report.pdf')]).match(/ image /g)?.length).toBe(2 + PAGES);

    for (const who of [parties.publisher, parties.printer]) {
      await stateIt(parties.archive, who, { kind: 'sign-off', fileId: dummy.id });
    }
    const draft = (await draftStatement(
      parties.archive,
      parties.printer.actor,
      { kind: 'release', fileId: file.id, signWith: parties.printer.certificate },
      AT,
    )) as StatementOf<'release'>;
    const back = { sheet: 1, side: 'back', plates: INKS.map((ink) => `demo_2(${ink}).tif`) };
    expect(draft.subject.sheets?.[1]).toEqual({
      ...back,
      plates: INKS.map((ink) => ({ ink: ink.toLowerCase(), sha256: hashOf(`demo_2(${ink}).tif`) })),
    });
    // A page holds the draft against what it shows.
    const { sides, separations } = (await sheetsOfFile(parties.archive, file))!;
    expect(releasedSides({ sides, separations: separations! }, () => '')).toEqual(draft.subject.sheets);
    const { sheets: _left, ...without } = draft.subject;
    for (const subject of [without, { ...without, sheets: draft.subject.sheets!.toReversed() }]) {
      const sent = sendSigned(parties.archive, parties.printer, { ...draft, subject });
      expect(await laterRefusalOf(sent)).toMatchObject({
        ...{ kind: 'unproven', checks: [{ name: 'subject-sheets' }] },
      });
    }
    expect(sayStatement(draft)).toContainEqual(expect.stringContaining(`; ${SPOT}, `));
    for (const who of [parties.publisher, parties.printer]) {
      await stateIt(parties.archive, who, { kind: 'release', fileId: file.id });
    }

    const order = { titleId: parties.title.id, scope: { kind: 'title' }, contents: 'files' } as const;
    const made = await makeEvidencePack(parties.archive, parties.publisher.actor, order, AT + 10_000);
    const pack = unpack(await wholeOf(made.stream));
    const folded = await catalogue.foldedBooks.ofFile(file.id);
    expect(readdirSync(join(pack.folder, 'files'))).toEqual(
      expect.arrayContaining([`${file.sha256}.zip`, `${folded!.sha256}.pdf`, `${folded!.plan}.json`]),
    );
    const { checks } = await verifyPack(pack.file, {});
    expect(checks.filter(({ check }) => check.outcome !== 'holds')).toEqual([]);
    expect(checks.map(({ about, check }) => `${about} ${check.name}`)).toContain(`files/${file.sha256}.zip pages`);
    const script = runScript(bareTools(), pack.folder);
    expect([script.status, script.err, script.lines.at(-2)]).toEqual([0, '', 'Everything holds.']);
  }, 180_000);

  test('that is a PDF of one page for each ink has what is wrong between its plates in the catalogue', async () => {
    const desk = await openFileDesk();
    const wrong = at('wrong');
    mkdirSync(wrong);
    for (const side of [1, 2]) {
      for (const ink of INKS) {
        if (side === 2 && ink === 'Black') continue;
        const from = side === 1 ? ({ Cyan: 'Yellow', Yellow: 'Cyan' }[ink] ?? ink) : ink;
        cpSync(join(plates, `demo_${side}(${from}).tif`), join(wrong, `demo_${side}(${ink}).tif`));
      }
    }
    await desk.sendFile(bookPath, { kind: 'dummy' });
    const path = await separatedPdf(wrong, at('wrong.pdf'));
    const file = await desk.sendFile(path, { kind: 'plates-input', name: 'wrong.pdf' });
    await desk.workOff();
    const found = await fileFindings(desk.archive, file.id);
    expect(found!.findings.map(({ weight, finding: { kind } }) => `${weight} ${kind}`)).toEqual([
      'stop inks-exchanged',
      'stop separation-missing',
    ]);
    expect(found!.findings[1]!.finding.says).toMatch(/black.*pages 2, 3 cannot be compared/i);
  }, 120_000);
});
