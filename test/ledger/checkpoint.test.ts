import { describe, expect, it } from 'vitest';
import {
  EMPTY_ROOT,
  formatCheckpoint,
  formatNote,
  openCheckpoint,
  parseCheckpoint,
  signCheckpoint,
  signNote,
} from '../../src/ledger/index.ts';
import { refusalOf } from '../refusal-of.ts';
import { refusalLater } from './refusal-later.ts';
import { newSigner } from './seeded-key.ts';

const ROOT = '47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU=';
const archive = await newSigner('archive.example/books');
const empty = { origin: 'archive.example/books', size: 0, root: EMPTY_ROOT };
const unfit = (pointer: string, expected: string, found: string) => ({ kind: 'malformed', pointer, expected, found });

describe('the head of a log', () => {
  it('is written in three lines', () => {
    expect(formatCheckpoint({ ...empty, size: 20852163 })).toBe(`archive.example/books\n20852163\n${ROOT}\n`);
    expect(parseCheckpoint(`archive.example/books\n0\n${ROOT}\n`)).toEqual(empty);
  });

  it('signed by its archive is believed', async () => {
    const note = await signCheckpoint(empty, archive);
    expect(await openCheckpoint(note, archive.verifier)).toEqual({ holds: true, checkpoint: empty });
  });

  it('with one figure changed is not', async () => {
    const note = (await signCheckpoint(empty, archive)).replace('\n0\n', '\n1\n');
    const answer = { holds: false, reason: 'bad-signature', by: archive.verifier };
    expect(await openCheckpoint(note, archive.verifier)).toEqual(answer);
  });

  it('of another archive is not believed because this one signed it', async () => {
    const note = formatNote(await signNote(formatCheckpoint({ ...empty, origin: 'other.example' }), archive));
    const answer = { holds: false, reason: 'another-origin', origin: 'other.example' };
    expect(await openCheckpoint(note, archive.verifier)).toEqual(answer);
  });

  it('is signed under its own name only', async () => {
    const refused = unfit('origin', 'archive.example/books', 'other.example');
    expect(await refusalLater(() => signCheckpoint({ ...empty, origin: 'other.example' }, archive))).toEqual(refused);
  });

  it.each([
    ['a nought in front', `a\n01\n${ROOT}\n`, 'size', 'a number in its shortest form', '01'],
    ['a plus in front', `a\n+1\n${ROOT}\n`, 'size', 'a number in its shortest form', '+1'],
    ['no size', `a\n\n${ROOT}\n`, 'size', 'a number in its shortest form', ''],
    ['a size in words', `a\nten\n${ROOT}\n`, 'size', 'a number of entries', 'NaN'],
    ['half an entry', `a\n0.5\n${ROOT}\n`, 'size', 'a number of entries', '0.5'],
    ['less than nothing', `a\n-1\n${ROOT}\n`, 'size', 'a number of entries', '-1'],
    ['more than can be counted', `a\n9007199254740992\n${ROOT}\n`, 'size', 'a number of entries', '9007199254740992'],
    ['a root cut short', `a\n1\n47DE\n`, 'root', '32 bytes of a hash', '3 bytes'],
    ['a root that is no base64', `a\n1\n47D\n`, 'root', 'base64 in its one form', '47D'],
    ['no name', `\n1\n${ROOT}\n`, 'name', 'a name without spaces and pluses', 'none'],
    ['a fourth line', `a\n1\n${ROOT}\nmore\n`, 'lines', 'origin, size and root', '4 lines'],
    ['an empty fourth line', `a\n1\n${ROOT}\n\n`, 'lines', 'origin, size and root', '4 lines'],
    ['no line end', `a\n1\n${ROOT}`, 'lines', 'origin, size and root', '2 lines'],
    ['two lines', `a\n1\n`, 'lines', 'origin, size and root', '2 lines'],
  ])('with %s is refused', (_, text, pointer, expected, found) => {
    expect(refusalOf(() => parseCheckpoint(text))).toEqual(unfit(pointer, expected, found));
  });
});
