import { onTitle, SIGNING, type Ran, type Stage } from '../stage.ts';
import { linesOf, openOf, sendAndHold } from './revisions.ts';

/** A plates input with an open finding is offered for release, and refused. @returns the refusal */
export async function playRefusedRelease(stage: Stage): Promise<Ran> {
  const { tell, cast, books } = stage;
  const input = { path: books.disordered, kind: 'plates-input', remark: 'for plates' } as const;
  const open = openOf(await sendAndHold(stage, cast.printer, input));
  tell(`${cast.printer.name} sends the plates input. Not everything is as it was signed or agreed:`);
  for (const line of linesOf(open)) tell(`  ${line}`);
  const refused = await stage.run(cast.printer, ['release', ...onTitle(stage), ...SIGNING], [1]);
  tell('A release is refused, and says why:');
  tell(`  ${refused.err.trim()}`);
  return refused;
}

/** The mended plates input, released by both. @returns what the printer was shown before signing */
export async function playRelease(stage: Stage): Promise<Ran> {
  const { tell, cast, books } = stage;
  const input = { path: books.mended, kind: 'plates-input', remark: 'mended, for plates' } as const;
  const open = openOf(await sendAndHold(stage, cast.printer, input));
  if (open.length > 0) throw new Error(`the mended plates input has open findings: ${linesOf(open).join('\n')}`);
  const released = await stage.run(cast.printer, ['release', ...onTitle(stage), ...SIGNING]);
  await stage.run(cast.publisher, ['release', ...onTitle(stage), ...SIGNING]);
  tell('The mended plates input has nothing open. Both sides sign the release: it may be made into plates.');
  return released;
}
