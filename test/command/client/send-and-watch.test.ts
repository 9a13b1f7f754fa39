import { execFileSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { createServer, request, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { runClientCommand } from '../../../src/command/client/run-client-command.ts';
import { formatPlan } from '../../../src/plates/index.ts';
import { smallPlan } from '../../archive/sheets/sheet-book.ts';
import { peopledService, type PeopledService } from '../../service/peopled-service.ts';
import { fakeDesk, fakeTools } from '../fake-desk.ts';

let at: PeopledService;
let token = '';
let folder = '';
const root = mkdtempSync(join(tmpdir(), 'witnessleaf-send-'));

beforeAll(async () => {
  at = await peopledService();
  const made = await at.printer.send('POST', '/api/tokens', { label: 'file desk' });
  token = (made.json as { secret: string }).secret;
});
afterAll(() => rmSync(root, { recursive: true, force: true }));
beforeEach(() => {
  folder = mkdtempSync(join(root, 'desk-'));
});

async function run(words: readonly string[], given: { server?: string; token?: string } = {}) {
  const { desk, out, err } = fakeDesk({ folder });
  const env = {
    WITNESSLEAF_SERVER: given.server ?? at.origin,
    WITNESSLEAF_TOKEN: given.token ?? token,
    XDG_STATE_HOME: join(root, 'state'),
  };
  const exit = await runClientCommand(words, fakeTools(desk, { env }));
  return { exit, out: out(), err: err() };
}

interface Listed {
  readonly id: string;
  readonly name: string;
  readonly kind: string;
  readonly remark: string;
  readonly sha256: string;
  readonly folding: unknown;
}

const filesThere = async (): Promise<readonly Listed[]> =>
  ((await at.printer.get(`/api/parts/${at.ids.part}/files`)).json as { items: Listed[] }).items;

const pdf = (text: string): string => `%PDF-1.4\n% ${text}\n%%EOF\n`;

const PLATES = ['oben/Schön(Cyan).tif', 'unten(Black).tif'] as const;

/** A folder of plates, each of other bytes; what is in them is not looked at. */
function putPlates(name: string, { bytes }: { readonly bytes: number }): void {
  mkdirSync(join(folder, name, 'oben'), { recursive: true });
  PLATES.forEach((plate, nth) =>
    writeFileSync(join(folder, name, plate), Buffer.alloc(bytes, `plate ${nth} of ${name} `)),
  );
}

async function contentOf(id: string): Promise<Buffer> {
  const answer = await fetch(`${at.origin}/api/files/${id}/content`, { headers: { Authorization: `Bearer ${token}` } });
  return Buffer.from(await answer.arrayBuffer());
}

describe('titles', () => {
  it('lists what this person sees, and what they are to it', async () => {
    expect((await run(['titles'])).out).toBe(
      `${at.ids.title}\tEin Winterbuch\tVerlag am Kai\tOffizin Weiher\tprinter\n`,
    );
  });
});

describe('send', () => {
  it('puts a file into the only part of a title, named in any case of letters, and prints its id', async () => {
    writeFileSync(join(folder, 'erster Umbruch.pdf'), pdf('first'));
    const words = [
      'send',
      'erster Umbruch.pdf',
      '--title',
      'ein winterbuch',
      '--kind',
      'dummy',
      '--remark',
      'für Bruno',
    ];
    const { exit, out, err } = await run(words);
    const [file] = (await filesThere()).filter(({ id }) => id === out.trim());
    expect(exit).toBe(0);
    expect(file).toMatchObject({ name: 'erster Umbruch.pdf', kind: 'dummy', remark: 'für Bruno' });
    expect(err).toContain('was sent into “Ein Winterbuch”, Book block');
  });

  it('goes on after the line broke in the middle, without sending again what has arrived', async () => {
    const bytes = Buffer.alloc(6_000_000, 'a page of a book ');
    writeFileSync(join(folder, 'large.pdf'), bytes);
    const breaking = await lineThatBreaks(at.origin, 2_000_000);
    const { exit, out } = await run(['send', 'large.pdf', '--title', at.ids.title], { server: breaking.origin });
    await breaking.close();
    expect(exit).toBe(0);
    expect((await filesThere()).map(({ id }) => id)).toContain(out.trim());
    expect(breaking.breaks()).toBe(1);
    expect(breaking.carried()).toBeLessThan(bytes.length * 1.3);
  });

  it('puts plates together as one file, which goes on after a break like any other', async () => {
    putPlates('Bogen', { bytes: 1_500_000 });
    const breaking = await lineThatBreaks(at.origin, 2_000_000);
    const words = ['--title', at.ids.title];
    const { exit, out } = await run(['send', 'Bogen', ...words], { server: breaking.origin });
    await breaking.close();
    expect([exit, breaking.breaks()]).toEqual([0, 1]);
    const sent = (await filesThere()).find(({ id }) => id === out.trim())!;
    expect(sent).toMatchObject({ name: 'Bogen.zip', kind: 'plates-input' });
    writeFileSync(join(folder, 'sent.zip'), await contentOf(sent.id));
    execFileSync('unzip', ['-q', 'sent.zip', '-d', 'unpacked'], { cwd: folder });
    for (const name of PLATES) {
      expect(readFileSync(join(folder, 'unpacked', name)).equals(readFileSync(join(folder, 'Bogen', name)))).toBe(true);
    }
    // The same plates named one by one are the same file, wherever they are named from.
    const again = await run(['send', ...PLATES.toReversed().map((name) => join('Bogen', name)), ...words]);
    expect((await filesThere()).find(({ id }) => id === again.out.trim())!.sha256).toBe(sent.sha256);
  });

  it('takes several files only where each is a plate', async () => {
    writeFileSync(join(folder, 'a.pdf'), pdf('a'));
    putPlates('Bogen', { bytes: 10 });
    const words = ['--title', 'Ein Winterbuch', '--kind', 'plates-input'];
    await expect(run(['send', 'a.pdf', join('Bogen', PLATES[0]), ...words])).rejects.toMatchObject({
      kind: 'unreadable',
      details: { reason: 'only plates, each a TIFF, are sent together' },
    });
    mkdirSync(join(folder, 'nothing'));
    await expect(run(['send', 'nothing', ...words])).rejects.toMatchObject({ kind: 'unreadable' });
  });

  it('says of sheets how they fold, by a plan or by folds, and goes on with them only where they fold so', async () => {
    const words = ['send', 'sheets.pdf', '--title', 'Ein Winterbuch'];
    writeFileSync(join(folder, 'sheets.pdf'), pdf('sheets'));
    writeFileSync(join(folder, 'plan.json'), formatPlan(smallPlan(16)));
    writeFileSync(join(folder, 'torn.json'), formatPlan(smallPlan(16)).slice(0, 900));
    const sent = async (more: readonly string[]) => {
      const { exit, out } = await run([...words, ...more]);
      const file = (await filesThere()).find(({ id }) => id === out.trim());
      return [exit, file?.kind, file?.folding];
    };
    const plan = expect.stringMatching(/^[0-9a-f]{64}$/) as string;
    expect(await sent(['--plan', 'plan.json'])).toEqual([0, 'plates-input', { plan }]);
    const folds = ['--fold', '16', '--bound', 'saddle-stitched', '--working', 'work-and-turn'];
    const folding = { fold: '16', bound: 'saddle-stitched', working: 'work-and-turn' };
    expect(await sent(folds)).toEqual([0, 'plates-input', folding]);

    const before = (await filesThere()).length;
    await expect(run([...words, '--plan', 'torn.json'])).rejects.toMatchObject({ kind: 'malformed' });
    await expect(run([...words, '--plan', 'none.json'])).rejects.toMatchObject({ kind: 'not-found' });
    await expect(run([...words, '--fold', 'R>L, T>B'])).rejects.toMatchObject({ kind: 'malformed' });
    const { exit, err } = await run([...words, '--bound', 'sewn']);
    expect([exit, err]).toEqual([2, 'witnessleaf: --bound goes with --fold (--help shows how)\n']);
    expect((await filesThere()).length).toBe(before);
  });

  it.each([
    [['--title', 'No such book'], { kind: 'not-found', details: { what: 'title “No such book”' } }],
    [['--title', 'Ein Winterbuch', '--part', 'jacket'], { kind: 'not-found', details: { what: 'part “jacket”' } }],
    [['--title', 'Ein Winterbuch', '--kind', 'proof'], { kind: 'malformed', details: { pointer: '--kind' } }],
  ])('says what does not fit in %j', async (more, refusal) => {
    writeFileSync(join(folder, 'a.pdf'), pdf('a'));
    await expect(run(['send', 'a.pdf', ...more])).rejects.toMatchObject(refusal);
  });

  it('says that nobody is known by a wrong token, and that an archive is not there', async () => {
    writeFileSync(join(folder, 'a.pdf'), pdf('a'));
    const words = ['send', 'a.pdf', '--title', 'Ein Winterbuch'];
    await expect(run(words, { token: 'wrong' })).rejects.toMatchObject({ kind: 'unidentified' });
    await expect(run(words, { server: 'http://127.0.0.1:9' })).rejects.toMatchObject({ kind: 'unavailable' });
  });
});

describe('watch', () => {
  const look = ['--title', 'Ein Winterbuch', '--every', '0.05', '--once'];

  it('sends what is put into the folder, the oldest first, and puts it away with its id', async () => {
    mkdirSync(join(folder, 'hot'));
    ['b.pdf', 'a.pdf'].forEach((name, minute) => {
      writeFileSync(join(folder, 'hot', name), pdf(`watched ${name}`));
      utimesSync(join(folder, 'hot', name), new Date(0), new Date((minute + 1) * 60_000));
    });
    expect((await run(['watch', 'hot', ...look])).exit).toBe(0);
    const names = (await filesThere()).map(({ name }) => name);
    expect(names.slice(-2)).toEqual(['b.pdf', 'a.pdf']);
    expect(readdirSync(join(folder, 'hot'))).toEqual(['sent']);
    expect(readFileSync(join(folder, 'hot', 'sent', 'a.pdf.txt'), 'utf8')).toBe(
      `sent as ${(await filesThere()).at(-1)!.id}\n`,
    );
  });

  it('sends a folder of plates as one, and refuses a plate alone', async () => {
    mkdirSync(join(folder, 'hot'));
    putPlates(join('hot', 'Bogen 2'), { bytes: 2000 });
    writeFileSync(join(folder, 'hot', 'alone(Cyan).tif'), 'one plate');
    const { exit, out } = await run(['watch', 'hot', ...look, '--kind', 'plates-input']);
    expect(exit).toBe(1);
    expect(out).toMatch(/alone\(Cyan\)\.tif: refused: .*plates are put into a folder of their own/);
    expect((await filesThere()).at(-1)).toMatchObject({ name: 'Bogen 2.zip', kind: 'plates-input' });
    expect(readdirSync(join(folder, 'hot')).sort()).toEqual(['refused', 'sent']);
    expect(readdirSync(join(folder, 'hot', 'sent', 'Bogen 2'), { recursive: true }).sort()).toEqual(
      ['oben', ...PLATES].sort(),
    );
  });

  it('says of every file how its sheets fold, and sends the same bytes again where they were said to fold otherwise', async () => {
    mkdirSync(join(folder, 'hot'));
    const put = (): void => writeFileSync(join(folder, 'hot', 'sheets.pdf'), pdf('watched sheets'));
    const folds = ['--fold', '16', '--bound', 'perfect-bound', '--working', 'sheetwise-tumbled'];
    put();
    expect((await run(['watch', 'hot', ...look, ...folds])).exit).toBe(0);
    const [first] = (await filesThere()).slice(-1);
    const folding = { fold: '16', bound: 'perfect-bound', working: 'sheetwise-tumbled' };
    expect([first?.kind, first?.folding]).toEqual(['plates-input', folding]);
    put();
    expect((await run(['watch', 'hot', ...look, ...folds])).out).toBe(`sheets.pdf: is there already as ${first!.id}\n`);
    writeFileSync(join(folder, 'plan.json'), formatPlan(smallPlan(16)));
    put();
    expect((await run(['watch', 'hot', ...look, '--plan', 'plan.json'])).exit).toBe(0);
    const last = (await filesThere()).at(-1);
    const plan = expect.stringMatching(/^[0-9a-f]{64}$/) as string;
    expect([last?.id === first?.id, last?.folding]).toEqual([false, { plan }]);
    const { exit, err } = await run(['watch', 'hot', ...look, '--working', 'sheetwise']);
    expect([exit, err]).toEqual([2, 'witnessleaf: --working goes with --fold (--help shows how)\n']);
  });

  it('does not send again what a killed run had sent and not put away', async () => {
    mkdirSync(join(folder, 'hot'));
    writeFileSync(join(folder, 'hot', 'twice.pdf'), pdf('twice'));
    await run(['send', join('hot', 'twice.pdf'), '--title', 'Ein Winterbuch']);
    const before = await filesThere();
    expect((await run(['watch', 'hot', ...look])).out).toBe(`twice.pdf: is there already as ${before.at(-1)!.id}\n`);
    expect(await filesThere()).toEqual(before);
    expect(existsSync(join(folder, 'hot', 'sent', 'twice.pdf'))).toBe(true);
  });
});

/** A line to a service that breaks once, after so many bytes of a body. */
async function lineThatBreaks(origin: string, afterBytes: number) {
  let carried = 0;
  let breaks = 0;
  const target = new URL(origin);
  const server: Server = createServer((incoming, outgoing) => {
    const { method, url, headers } = incoming;
    let isBroken = false;
    const onward = request({ host: target.hostname, port: target.port, method, path: url, headers }, (answer) => {
      if (isBroken) return void incoming.socket.destroy();
      outgoing.writeHead(answer.statusCode ?? 502, answer.headers);
      answer.pipe(outgoing);
    });
    onward.on('error', () => incoming.socket.destroy());
    incoming.on('data', (chunk: Buffer) => {
      carried += chunk.length;
      if (breaks === 0 && carried > afterBytes) {
        breaks += 1;
        isBroken = true;
        // What was carried arrives, however busy the other end is; only then does the sender lose the line.
        incoming.unpipe(onward);
        onward.socket?.end();
      }
    });
    incoming.pipe(onward);
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const { port } = server.address() as AddressInfo;
  return {
    origin: `http://127.0.0.1:${port}`,
    breaks: () => breaks,
    carried: () => carried,
    close: () => new Promise((done) => server.close(done)),
  };
}
