import { onTitle, SIGNING, type Stage } from '../stage.ts';

/**
 * Each side makes a key on its own machine, introduces the certificate, and confirms the other's by its fingerprint.
 *
 * @returns the fingerprints, as they were read over the telephone
 */
export async function playKeys(stage: Stage): Promise<{ readonly publisher: string; readonly printer: string }> {
  const { tell, cast } = stage;
  const read = { publisher: '', printer: '' };
  for (const side of ['publisher', 'printer'] as const) {
    const person = cast[side];
    const whose = ['--name', person.name, '--organisation', person.organisation];
    await stage.run(person, ['key', 'new', 'own.p12', ...whose]);
    read[side] = (await stage.run(person, ['key', 'introduce', 'own.p12'])).out.trim();
    tell(`${person.name} makes a key, which never leaves that machine. Its fingerprint: ${read[side]}.`);
  }
  tell('They read the fingerprints to each other over the telephone, and each signs that the other’s is right.');
  await stage.run(cast.publisher, ['key', 'confirm', read.printer, ...onTitle(stage), ...SIGNING]);
  await stage.run(cast.printer, ['key', 'confirm', read.publisher, ...onTitle(stage), ...SIGNING]);
  return read;
}
