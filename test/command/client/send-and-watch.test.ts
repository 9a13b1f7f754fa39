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
}

const filesThere = async (): Promise<readonly Listed[]> =>
  ((await at.printer.get(`/api/parts/${at.ids.part}/files`)).json as { items: Listed[] }).items;

const pdf = (text: string): string => `%PDF-1.4\n% ${text}\n%%EOF\n`;

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
    const onward = request({ host: target.hostname, port: target.port, method, path: url, headers }, (answer) => {
      outgoing.writeHead(answer.statusCode ?? 502, answer.headers);
      answer.pipe(outgoing);
    });
    onward.on('error', () => outgoing.destroy());
    incoming.on('data', (chunk: Buffer) => {
      carried += chunk.length;
      if (breaks === 0 && carried > afterBytes) {
        breaks += 1;
        onward.destroy();
        incoming.socket.destroy();
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
