import { describe, expect, it } from 'vitest';
import type { StatementOf } from '../../src/model/index.ts';
import { checkDraft, type MeantStatement } from '../../src/sealing/index.ts';

const [ONE, OTHER] = ['1'.repeat(64), '2'.repeat(64)];

const draft: StatementOf<'sign-off'> = {
  type: 'witnessleaf-statement/1',
  kind: 'sign-off',
  id: '0'.repeat(32),
  title: { id: 't1', name: 'A Winter’s Round' },
  signer: { party: 'publisher', name: 'Anaïs', organisation: 'Phare', certificate: ONE },
  at: '2031-05-02T12:00:00Z',
  head: { origin: 'archive.example/log', size: 3, root: ONE },
  subject: { part: { id: 'p1', name: 'Book block' }, dummy: { sha256: ONE, bytes: 10, pages: [ONE, OTHER] } },
};

const meant: MeantStatement<'sign-off'> = {
  kind: 'sign-off',
  title: draft.title,
  signer: draft.signer,
  subject: { part: { id: 'p1' }, dummy: { sha256: ONE, pages: [ONE, OTHER] } },
  now: '2031-05-02T12:30:00Z',
};

describe('a draft', () => {
  it('that says what was meant holds in every member that is known here', () => {
    expect(checkDraft(draft, meant).map(({ name, outcome }) => `${name} ${outcome}`)).toEqual([
      'kind holds',
      'title/id holds',
      'title/name holds',
      'signer/party holds',
      'signer/name holds',
      'signer/organisation holds',
      'signer/certificate holds',
      'at holds',
      'subject/part/id holds',
      'subject/dummy/sha256 holds',
      'subject/dummy/pages holds',
    ]);
  });

  it.each([
    [
      'another file',
      { subject: { ...draft.subject, dummy: { ...draft.subject.dummy, sha256: OTHER } } },
      'subject/dummy/sha256',
      ONE,
      OTHER,
    ],
    [
      'pages in another order',
      { subject: { ...draft.subject, dummy: { ...draft.subject.dummy, pages: [OTHER, ONE] } } },
      'subject/dummy/pages',
      JSON.stringify([ONE, OTHER]),
      JSON.stringify([OTHER, ONE]),
    ],
    [
      'another part',
      { subject: { ...draft.subject, part: { id: 'p2', name: 'Book block' } } },
      'subject/part/id',
      'p1',
      'p2',
    ],
    ['another title', { title: { id: 't2', name: draft.title.name } }, 'title/id', 't1', 't2'],
    ['another key', { signer: { ...draft.signer, certificate: OTHER } }, 'signer/certificate', ONE, OTHER],
    ['the other side', { signer: { ...draft.signer, party: 'printer' } }, 'signer/party', 'publisher', 'printer'],
    [
      'a time more than an hour off',
      { at: '2031-05-02T11:29:59Z' },
      'at',
      '2031-05-02T12:30:00Z',
      '2031-05-02T11:29:59Z',
    ],
  ] as const)('with %s does not hold there, and nowhere else', (_what, altered, name, expected, found) => {
    const wrong = checkDraft({ ...draft, ...altered }, meant).filter(({ outcome }) => outcome !== 'holds');
    expect(wrong).toEqual([{ name, outcome: 'fails', expected, found }]);
  });

  it('of another kind is told as such; its subject cannot be compared', () => {
    const { subject, ...rest } = draft;
    const other = { ...rest, kind: 'withdrawal', subject: { part: subject.part, dummy: ONE, reason: 'x' } } as const;
    const wrong = checkDraft(other, meant).filter(({ outcome }) => outcome !== 'holds');
    expect(wrong).toEqual([{ name: 'kind', outcome: 'fails', expected: 'sign-off', found: 'withdrawal' }]);
  });

  it('that leaves out what was meant says nothing there', () => {
    const without = { ...draft, subject: { ...draft.subject, dummy: undefined } } as unknown as typeof draft;
    const wrong = checkDraft(without, meant).filter(({ outcome }) => outcome !== 'holds');
    expect(wrong.map(({ name }) => name)).toEqual(['subject/dummy']);
  });
});
