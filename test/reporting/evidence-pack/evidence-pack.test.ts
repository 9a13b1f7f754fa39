import { execFileSync } from 'node:child_process';
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { backUpArchive, bringInParty, recordExport, openArchive } from '../../../src/archive/index.ts';
import { scratchFolder } from '../../archive/scratch.ts';
import { exportEvidencePack, makeEvidencePack, verifyPack, type PackOrder } from '../../../src/reporting/index.ts';
import { fingerprintOf, sha256Hex } from '../../../src/sealing/index.ts';
import { newSigner } from '../../ledger/seeded-key.ts';
import { signCheckpoint, signNote } from '../../../src/ledger/index.ts';
import { sealText } from '../../../src/evidence/index.ts';
import { refusalOfPromise } from '../../sealing/people.ts';
import { minute, playDispute, state, type Dispute } from './dispute.ts';
import { openStamper } from './stamper.ts';
import { bareTools, namesBelow, runScript, unpack, wholeOf } from './unpacked.ts';

describe('an evidence pack', () => {
  let dispute: Dispute;
  let whole: PackOrder;
  const tools = bareTools();
  const stamper = openStamper();
  beforeAll(async () => {
    dispute = await playDispute({ authority: stamper.authority });
    const authorities = stamper.authority.trusted;
    whole = { titleId: dispute.title.id, scope: { kind: 'title' }, contents: 'files', authorities };
  }, 30_000);
  afterAll(() => {
    dispute.archive.close();
    stamper.desk.clear();
  });

  const zipOf = async (order: Partial<PackOrder> = {}): Promise<Buffer> => {
    const { archive, editor } = dispute;
    return wholeOf((await makeEvidencePack(archive, editor.actor, { ...whole, ...order }, minute(100))).stream);
  };
  const kindsOf = (names: readonly string[]): readonly string[] => [
    ...new Set(names.map((name) => name.replace(/\/.*\./, '/….').replace(/^MEMBERS.*/, 'MEMBERS'))),
  ];
  const faultsOf = async (path: string, known = {}): Promise<readonly string[]> =>
    (await verifyPack(path, known)).checks.flatMap(({ about, check }) =>
      check.outcome === 'holds' ? [] : [`${about} ${check.name} ${check.outcome}`],
    );

  it('holds as well where it comes out of a backup that was put in the archive’s place', async () => {
    const copy = join(scratchFolder(), 'copy');
    const done = await backUpArchive({ folder: join(dispute.folder, 'archive'), copy, at: minute(100) });
    expect(done.damaged).toEqual([]);
    const restored = await openArchive(copy, minute(100));
    const pack = await makeEvidencePack(restored, dispute.editor.actor, whole, minute(100));
    const { file } = unpack(await wholeOf(pack.stream));
    restored.close();
    expect(await faultsOf(file)).toEqual([]);
  });

  it('is a ZIP that unzip takes, and holds by verify.sh with a shell, openssl and sha256sum and nothing else', async () => {
    const { folder, file } = unpack(await zipOf());
    expect(execFileSync('unzip', ['-t', file]).toString()).toContain('No errors detected');
    const { status, lines, err } = runScript(tools, folder);
    expect([status, err, lines.at(-2)]).toEqual([0, '', 'Everything holds.']);
    expect(lines.filter((line) => /^(DOES NOT|not checked)/.test(line))).toEqual([]);
    expect(lines).toContain('holds          12 entries are in the log of 23 entries');
    expect(lines.filter((line) => line.includes('signed with the certificate'))).toHaveLength(6);
    expect(lines.filter((line) => line.includes('the log had its first 23 entries on'))).toHaveLength(1);
    expect(await faultsOf(file)).toEqual([]);
    expect(kindsOf(namesBelow(folder))).toEqual([
      ...['MEMBERS', 'README.txt', 'account.pdf', 'account.txt', 'archive/….pem', 'archive/….txt'],
      ...[
        'certificates/….pem',
        'files/….pdf',
        'heads/….consistency',
        'heads/….note',
        'heads/….sig',
        'heads/….signed',
        'history/….webp',
      ],
      ...[
        'log/….entry',
        'log/….tlog-proof',
        'pack.json',
        'reports/….webp',
        'reports/….json',
        'statements/….json',
        'statements/….p7s',
      ],
      ...['time-stamps/….pem', 'time-stamps/….tst', 'verify.sh'],
    ]);
  });

  it('is the same, byte for byte, when it is made again, in whatever time zone', async () => {
    const first = await zipOf();
    const zone = process.env.TZ;
    process.env.TZ = 'Pacific/Auckland';
    const second = await zipOf();
    if (zone === undefined) delete process.env.TZ;
    else process.env.TZ = zone;
    expect(second.compare(first)).toBe(0);
  });

  it('says nothing of another title, not even its name', async () => {
    const bytes = (await zipOf()).toString('latin1');
    expect(bytes).toContain(dispute.title.id);
    expect(bytes).not.toContain(dispute.other.id);
    expect(bytes).not.toContain('Secret Gardens');
  });

  it('with hashes only has no file, and still what was signed of each', async () => {
    const { folder } = unpack(await zipOf({ contents: 'hashes' }));
    expect(namesBelow(folder).filter((name) => name.startsWith('files/'))).toEqual([]);
    expect(readFileSync(join(folder, 'pack.json'), 'utf8')).toContain(dispute.dummy.sha256);
    expect([runScript(tools, folder).status, await faultsOf(folder)]).toEqual([0, []]);
  });

  it.each([[2, 6, true] as const, [3, 4, false] as const])(
    'on page %i has its history, and %i statements: those on the page and those on the whole dummy',
    async (dummyPage, statements, isDisputed) => {
      const { folder } = unpack(await zipOf({ scope: { kind: 'page', partId: dispute.part.id, dummyPage } }));
      const names = namesBelow(folder);
      expect(names.filter((name) => name.startsWith('statements/') && name.endsWith('.json'))).toHaveLength(statements);
      const account = readFileSync(join(folder, 'account.txt'), 'utf8');
      expect(account).toContain(`Page ${dummyPage} of the dummy\n`);
      expect(account.match(/^Picture: /gm) ?? []).toHaveLength(isDisputed ? 5 : 0);
      expect(account.includes('now read “The frozen lake”')).toBe(isDisputed);
      expect([runScript(tools, folder).status, await faultsOf(folder)]).toEqual([0, []]);
    },
  );

  it('is refused for a page that no dummy has, for another title’s part, and to whoever may not see the title', async () => {
    const { archive, editor, part, other } = dispute;
    const make = (order: Partial<PackOrder>, actor = editor.actor) =>
      refusalOfPromise(makeEvidencePack(archive, actor, { ...whole, ...order }, minute(100)));
    const page = { kind: 'page', partId: part.id, dummyPage: 4 } as const;
    expect(await make({ scope: page })).toEqual({ kind: 'not-found', what: 'page 4 of a dummy' });
    const [jacket] = await archive.catalogue.titles.parts(other.id);
    const scope = { kind: 'part', partId: jacket?.id ?? '' } as const;
    expect(await make({ scope })).toEqual({ kind: 'not-found', what: 'part' });
    const stranger = await bringInParty(archive, editor.actor, { party: 'Nobody', person: 'N.' }, minute(91));
    const actor = { personId: stranger.person.id, partyId: stranger.party.id };
    expect(await make({}, actor)).toEqual({ kind: 'not-found', what: 'title' });
    const studio = await archive.catalogue.parties.byName('Studio Ruß');
    const [lea] = await archive.catalogue.people.ofParty(studio?.id ?? '');
    expect(await make({}, { personId: lea?.id ?? '', partyId: studio?.id ?? '' })).toBe('nothing was refused');
  });

  it('that is taken out is recorded, and the pack has the entry that says so', async () => {
    const { archive, foreman, title, dummy } = dispute;
    const of = { titleId: title.id, remark: 'signed copy' };
    const copied = { what: 'file', id: dummy.id, sha256: dummy.sha256 };
    await recordExport(archive, foreman.actor, { ...of, subjects: [copied] }, minute(100));
    const table = { what: 'accounts', id: title.id, sha256: null };
    await recordExport(archive, foreman.actor, { ...of, subjects: [table], remark: 'accounts' }, minute(100));
    const pack = await exportEvidencePack(archive, foreman.actor, { ...whole, contents: 'hashes' }, minute(101));
    const { folder } = unpack(await wholeOf(pack.stream));
    const told = readFileSync(join(folder, 'account.txt'), 'utf8').split('\n');
    const took = told.filter((line) => line.includes(' took '));
    expect(took.map((line) => line.replace('    Tomás Ó Néill (Offizin Süd, printer) ', ''))).toEqual([
      `took a signed copy of the dummy “${dummy.name}”.`,
      'took the accounts.',
      'took an evidence pack (the whole title, hashes only).',
    ]);
    expect(await faultsOf(folder)).toEqual([]);
  });

  it('is held against a head that was seen before, and against fingerprints that are known', async () => {
    const { archive, editor } = dispute;
    const { folder } = unpack(await zipOf({ seenSizes: [9] }));
    const noteOf = async (size: number) => (await archive.catalogue.log.checkpoint(size))?.note ?? '';
    expect(await faultsOf(folder, { seen: await noteOf(9) })).toEqual([]);
    expect(await faultsOf(folder, { seen: `${archive.identity.verifierKey}\n${await noteOf(9)}` })).toEqual([]);
    const about = 'the head that you have seen head-seen';
    expect(await faultsOf(folder, { seen: await noteOf(8) })).toEqual([`${about} not-checked`]);
    const { origin, signer } = archive.identity;
    const rewritten = await signCheckpoint({ origin, size: 9, root: new Uint8Array(32) }, signer);
    expect(await faultsOf(folder, { seen: rewritten })).toEqual([`${about} fails`]);
    const stranger = await newSigner(origin);
    const strange = await signCheckpoint({ origin, size: 9, root: new Uint8Array(32) }, stranger);
    expect(await faultsOf(folder, { seen: strange })).toEqual([`${about} fails`]);
    const certificate = editor.key.certificate;
    const known = [await sha256Hex(certificate), await fingerprintOf(certificate), 'F4JGX-T996X'];
    expect(await faultsOf(folder, { fingerprints: known })).toEqual(['F4JGX-T996X fingerprint fails']);
    const own = await sha256Hex(certificate);
    expect(runScript(tools, folder, 'verify.sh', ['.', own]).lines.filter((line) => line.startsWith('known'))).toEqual([
      `known to you   ${own}  CN=Anaïs Ödegård,O=Blattwerk Verlag`,
    ]);
  });

  it('without the certificate of the time-stamp authority says what could not be checked, and ends with 2', async () => {
    const { folder } = unpack(await zipOf({ authorities: [] }));
    const { status, lines } = runScript(tools, folder);
    expect(status).toBe(2);
    expect(lines.filter((line) => line.startsWith('not checked'))).toHaveLength(1);
    expect(await faultsOf(folder)).toEqual(['time-stamps/000023-1.tst authority-trusted not-checked']);
  });

  it('where openssl is missing says so, and ends with 2', async () => {
    const { folder } = unpack(await zipOf({ contents: 'hashes' }));
    const without = bareTools();
    rmSync(join(without, 'openssl'));
    expect(runScript(without, folder)).toEqual({ status: 2, lines: ['verify.sh: openssl is needed', ''], err: '' });
  });

  it('in which somebody put other words under a signature, and mended the list, is told all the same', async () => {
    const { folder } = unpack(await zipOf({ contents: 'hashes' }));
    const path = join(folder, 'statements', '000021.json');
    writeFileSync(path, readFileSync(path, 'utf8').replace('"printers-error"', '"authors-alteration"'));
    const list = join(folder, 'MEMBERS');
    const fresh = execFileSync('sha256sum', ['statements/000021.json'], { cwd: folder }).toString();
    writeFileSync(list, readFileSync(list, 'utf8').replace(/.*statements\/000021\.json\n/, fresh));
    const { status, lines } = runScript(tools, folder);
    expect(status).toBe(1);
    expect(lines.filter((line) => line.startsWith('DOES NOT HOLD')).map((line) => line.slice(15, 45))).toEqual([
      'MEMBERS: it is not the list th',
      'statements/000021.json (ruling',
      'statements/000021.json (ruling',
    ]);
    expect(await faultsOf(folder)).toEqual(
      expect.arrayContaining([
        'MEMBERS list-sealed fails',
        'statements/000021.json message-digest fails',
        'statements/000021.json statement-logged fails',
      ]),
    );
  });

  it('from which the archive itself left out a ruling, its own seal fitting, is told by the entry that is left', async () => {
    const { folder } = unpack(await zipOf({ contents: 'hashes' }));
    rmSync(join(folder, 'statements', '000021.json'));
    rmSync(join(folder, 'statements', '000021.p7s'));
    const list = join(folder, 'MEMBERS');
    writeFileSync(list, readFileSync(list, 'utf8').replaceAll(/.*statements\/000021.*\n/g, ''));
    const { origin, signer } = dispute.archive.identity;
    const text = sealText(origin, '2031-05-02T13:40:00.000Z', await sha256Hex(readFileSync(list)));
    writeFileSync(join(folder, 'MEMBERS.seal'), text);
    const { signatures } = await signNote(text, signer);
    writeFileSync(join(folder, 'MEMBERS.seal.sig'), signatures[0]?.signature ?? '');
    const { status, lines } = runScript(tools, folder);
    expect([status, lines.filter((line) => line.startsWith('DOES NOT HOLD'))]).toEqual([
      1,
      ['DOES NOT HOLD  statements/000021.json: it is missing, but the log has an entry for it'],
    ]);
    expect(await faultsOf(folder)).toContain('statements/000021.json there fails');
  });

  it('with a key revoked later still holds: what came in before stays valid', async () => {
    const { editor } = dispute;
    const sha256 = await sha256Hex(editor.key.certificate);
    const from = `${new Date(minute(60)).toISOString().slice(0, 19)}Z`;
    const subject = { sha256, fingerprint: await fingerprintOf(editor.key.certificate), from, reason: 'Lost.' };
    await state(dispute, editor, { kind: 'revocation', subject });
    const { folder } = unpack(await zipOf({ contents: 'hashes' }));
    const { status, lines } = runScript(tools, folder);
    expect(status).toBe(0);
    expect(lines.filter((line) => line.includes('came in before its certificate was revoked'))).toHaveLength(3);
    expect(await faultsOf(folder)).toEqual([]);
  });
});
