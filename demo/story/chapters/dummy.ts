import { setTimeout as pause } from 'node:timers/promises';
import { onTitle, SIGNING, type Ran, type Stage } from '../stage.ts';

const ASK_MS = 200;
const LONGEST_MS = 300_000;

/** The printer sends the dummy, and both sides sign it. @returns what the publisher was shown before signing */
export async function playDummy(stage: Stage): Promise<Ran> {
  const { tell, cast } = stage;
  const remark = ['--remark', 'printed at 100 ppi, in order'];
  const { out } = await stage.run(cast.printer, [
    'send',
    stage.books.dummy,
    ...onTitle(stage),
    '--kind',
    'dummy',
    ...remark,
  ]);
  const pages = await untilRead(stage, out.trim());
  tell(`${cast.printer.name} sends the dummy: ${pages} pages, as they came off the proofer.`);
  const signed = await stage.run(cast.publisher, ['sign-off', ...onTitle(stage), ...SIGNING]);
  tell(`${cast.publisher.name} looks through it and signs. One signature alone binds nobody.`);
  await stage.run(cast.printer, ['sign-off', ...onTitle(stage), ...SIGNING]);
  tell(`${cast.printer.name} signs too. From here on, these pages in this order are the contract.`);
  return signed;
}

/** Waits until a file was read. @returns how many pages it has */
async function untilRead(stage: Stage, file: string): Promise<number> {
  const atPrinter = stage.ask(stage.cast.printer);
  for (let waited = 0; waited < LONGEST_MS; waited += ASK_MS) {
    const { reading } = await atPrinter.get<{ readonly reading: { state: string; cause: string | null } | null }>(
      `/api/files/${file}/checking`,
    );
    if (reading?.state === 'done') {
      const { items } = await atPrinter.get<{ readonly items: readonly unknown[] }>(
        `/api/files/${file}/pages?most=200`,
      );
      return items.length;
    }
    if (reading?.state === 'failed') throw new Error(`the dummy cannot be read: ${reading.cause}`);
    await pause(ASK_MS);
  }
  throw new Error('the dummy was not read in time');
}
