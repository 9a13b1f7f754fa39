import { describe, expect, it } from 'vitest';
import {
  formatNote,
  formatVerifierKey,
  noteVerifier,
  parseBase64,
  parseNote,
  parseVerifierKey,
  signNote,
  verifyNote,
} from '../../src/ledger/index.ts';
import { refusalOf } from '../refusal-of.ts';
import { refusalLater } from './refusal-later.ts';
import { newSigner } from './seeded-key.ts';

const LINE = `\u2014 archive.example ${Buffer.from('1234 and a signature').toString('base64')}\n`;
const unfit = (expected: string, found: string, pointer = 'note') => ({ kind: 'malformed', pointer, expected, found });

const archive = await newSigner('archive.example/books');
const witness = await newSigner('witness.example');
const signed = await signNote('Für Marie\n\nzwölf Seiten\n', archive);
const both = { ...signed, signatures: [...signed.signatures, ...(await signNote(signed.text, witness)).signatures] };
const spoilt = (at: number) => ({
  ...both,
  signatures: both.signatures.map((one, index) =>
    index === at ? { ...one, signature: one.signature.with(0, one.signature[0]! ^ 1) } : one,
  ),
});

describe('a signed note', () => {
  it('holds for whoever knows one of its keys, and names those that signed', async () => {
    const known = [archive.verifier, witness.verifier];
    expect(await verifyNote(both, known)).toEqual({ holds: true, by: known });
    expect(await verifyNote(both, [witness.verifier])).toEqual({ holds: true, by: [witness.verifier] });
  });

  it('is read back as it was written, empty lines in its text and all', () => {
    expect(parseNote(formatNote(both))).toEqual(both);
    expect(parseNote(new TextEncoder().encode(formatNote(both)))).toEqual(both);
  });

  it('without a known key is nobody’s', async () => {
    expect(await verifyNote(signed, [witness.verifier])).toEqual({ holds: false, reason: 'no-known-key' });
    const namesake = (await newSigner('archive.example/books')).verifier;
    expect(await verifyNote(signed, [namesake])).toEqual({ holds: false, reason: 'no-known-key' });
  });

  it('is spoilt by one bad signature of a known key, even beside a good one', async () => {
    const answer = await verifyNote(spoilt(1), [archive.verifier, witness.verifier]);
    expect(answer).toEqual({ holds: false, reason: 'bad-signature', by: witness.verifier });
  });

  it('is not spoilt by a bad signature of somebody unknown', async () => {
    expect(await verifyNote(spoilt(1), [archive.verifier])).toEqual({ holds: true, by: [archive.verifier] });
  });

  it('holds for no other text', async () => {
    const answer = await verifyNote({ ...signed, text: 'Für Marie\n\nelf Seiten\n' }, [archive.verifier]);
    expect(answer).toEqual({ holds: false, reason: 'bad-signature', by: archive.verifier });
  });

  it('does not hold with a signature of another length', async () => {
    const short = { ...signed, signatures: signed.signatures.map((one) => ({ ...one, signature: Uint8Array.of(1) })) };
    const answer = await verifyNote(short, [archive.verifier]);
    expect(answer).toEqual({ holds: false, reason: 'bad-signature', by: archive.verifier });
  });

  it.each([
    ['no signatures', 'text\n', 'a text, an empty line and signature lines', 'something else'],
    ['an empty line and nothing after it', 'text\n\n', 'a signature line', 'none'],
    ['no line end', `text\n\n${LINE.trimEnd()}`, 'a text, an empty line and signature lines', 'something else'],
    ['a control character', `te\u0001xt\n\n${LINE}`, 'text without control characters', 'one with them'],
    ['a carriage return', `text\r\n\n${LINE}`, 'text without control characters', 'one with them'],
    ['a line after the signatures', `text\n\n${LINE}more\n`, 'a signature line', 'more'],
    [
      'a hyphen for the dash',
      `text\n\n${LINE.replace('\u2014', '-')}`,
      'a signature line',
      LINE.trimEnd().replace('\u2014', '-'),
    ],
    [
      'a name of two words',
      `text\n\n${LINE.replace('archive', 'an archive')}`,
      'a signature line',
      LINE.trimEnd().replace('archive', 'an archive'),
    ],
    ['a signature of four bytes', 'text\n\n\u2014 a AAAAAA==\n', 'a key number of 4 bytes and a signature', '4 bytes'],
  ])('with %s is refused', (_, note, expected, found) => {
    expect(refusalOf(() => parseNote(note))).toEqual(unfit(expected, found));
  });

  it('in bytes that are no UTF-8 is refused', () => {
    const bytes = Uint8Array.of(0xff, ...new TextEncoder().encode(`text\n\n${LINE}`));
    expect(refusalOf(() => parseNote(bytes))).toEqual(unfit('UTF-8', 'other bytes'));
  });

  it('may have 100 signatures, and no more', () => {
    expect(parseNote(`text\n\n${LINE.repeat(100)}`).signatures).toHaveLength(100);
    const refused = { kind: 'too-large', what: 'a note', limit: 100, found: 101, unit: 'signatures' };
    expect(refusalOf(() => parseNote(`text\n\n${LINE.repeat(101)}`))).toEqual(refused);
  });

  it('is not made of a text without a line end', async () => {
    const refused = unfit('a text that ends with a line end', 'none at its end');
    expect(await refusalLater(() => signNote('text', archive))).toEqual(refused);
  });
});

describe('the line that names an archive’s key', () => {
  const line = formatVerifierKey(archive.verifier);

  it('is read back', () => expect(parseVerifierKey(line)).toEqual(archive.verifier));

  it('is refused whenever one character of it is another', () => {
    const taken = Array.from(line).flatMap((character, at) => {
      const other = character === 'A' ? 'B' : 'A';
      const outcome = refusalOf(() => parseVerifierKey(line.slice(0, at) + other + line.slice(at + 1)));
      return outcome === 'nothing was refused' ? [at] : [];
    });
    expect(taken).toEqual([]);
  });

  it('is refused with a key of another kind or length', () => {
    // Both lines are published with key numbers that fit (golang.org/x/mod sumdb/note/note_test.go).
    const kind = 'PeterNeumann+173116ae+ZRpc2QcUPDhMQegwxbzhKqiBfsVkmqq/LDE4izWy10TW';
    const length = 'PeterNeumann+cc469956+ARpc2QcUPDhMQegwxbzhKqiBfsVkmqq/LDE4izWy10TWBADKEY==';
    expect(refusalOf(() => parseVerifierKey(kind))).toEqual(unfit('an Ed25519 key (type 1)', 'type 101', 'key'));
    expect(refusalOf(() => parseVerifierKey(length))).toMatchObject({ kind: 'malformed', pointer: 'key' });
    expect(refusalOf(() => noteVerifier('a', new Uint8Array(31)))).toEqual(
      unfit('32 bytes of an Ed25519 key', '31 bytes', 'key'),
    );
    expect(refusalOf(() => parseVerifierKey('a+00000000+'))).toEqual(unfit('an Ed25519 key (type 1)', 'none', 'key'));
  });

  it.each(['', 'two words', 'a+b', 'a\u2003b', 'a\u0085b', 'a\nb'])('cannot bear the name %j', (name) => {
    const refused = unfit('a name without spaces and pluses', name === '' ? 'none' : name, 'name');
    expect(refusalOf(() => noteVerifier(name, new Uint8Array(32)))).toEqual(refused);
  });
});

describe('base64', () => {
  it.each(['AQ', 'AQ=', 'AR==', ' AQ==', 'AQ==\n', 'A-==', '!', 'AAAA='])(
    'is read in its one form, not as %j',
    (text) => {
      expect(refusalOf(() => parseBase64(text, 'here'))).toEqual(unfit('base64 in its one form', text, 'here'));
    },
  );
});
