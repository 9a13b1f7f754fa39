import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  bringInParty,
  changeRights,
  giveSight,
  openArchive,
  openPart,
  openTitle,
  partName,
  renameTitle,
  takeInPerson,
  takeSight,
} from '../../../src/archive/index.ts';
import type { Actor, Archive, BroughtIn } from '../../../src/archive/index.ts';
import { parseLogEntry } from '../../../src/model/index.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { scratchFolder } from '../scratch.ts';
import { AT } from '../two-parties.ts';

let archive: Archive;
let printer: BroughtIn;
let publisher: BroughtIn;
let other: BroughtIn;
const actorOf = ({ person }: BroughtIn): Actor => ({ personId: person.id, partyId: person.partyId });

beforeAll(async () => {
  archive = await openArchive(scratchFolder(), AT);
  printer = await bringInParty(archive, null, { party: 'Druckhaus Süd', person: 'Ben' }, AT);
  publisher = await bringInParty(archive, actorOf(printer), { party: 'Blattwerk', person: 'Ada' }, AT);
  other = await bringInParty(archive, actorOf(printer), { party: 'Another publisher', person: 'Eve' }, AT);
});
afterAll(() => archive.close());

const titleOf = (name = 'Leaves') =>
  openTitle(archive, actorOf(printer), { name, publisherId: publisher.party.id, printerId: printer.party.id }, AT);

async function lastEntry(): Promise<unknown> {
  const entry = await archive.catalogue.log.entry((await archive.catalogue.log.size()) - 1);
  const { kind, title, by, remark, subjects } = parseLogEntry(entry!.bytes);
  return { kind, title, party: by.party, remark, subjects: subjects.map(({ what, id }) => `${what} ${id}`) };
}

describe('parties and people', () => {
  it('come in one by another, the first at the first start', async () => {
    expect(publisher.person.rights).toEqual(['look', 'send-files', 'sign']);
    expect(await laterRefusalOf(bringInParty(archive, null, { party: 'Studio', person: 'Cleo' }, AT))).toEqual({
      kind: 'out-of-step',
      what: 'the first start',
      named: 'no party',
      current: 'there are parties',
    });
    const twice = bringInParty(archive, actorOf(publisher), { party: 'Druckhaus Süd', person: 'Cleo' }, AT);
    expect(await laterRefusalOf(twice)).toMatchObject({ kind: 'out-of-step', what: 'the name of a party' });
  });

  it('know of each other by a title of both, or because one brought the other in', async () => {
    const { parties } = archive.catalogue;
    const known = async ({ party }: BroughtIn) => (await parties.knownTo(party.id)).map(({ name }) => name);
    expect(await known(printer)).toEqual(['Another publisher', 'Blattwerk', 'Druckhaus Süd']);
    expect(await known(publisher)).toEqual(['Blattwerk', 'Druckhaus Süd']);
  });

  it('have names that a certificate can bear', async () => {
    const long = bringInParty(archive, actorOf(printer), { party: 'x'.repeat(65), person: 'Cleo' }, AT);
    expect(await laterRefusalOf(long)).toMatchObject({ kind: 'malformed', pointer: '/party' });
    const unseen = takeInPerson(archive, actorOf(printer), { name: 'Be\u200bn', rights: ['look'] }, AT);
    expect(await laterRefusalOf(unseen)).toMatchObject({ kind: 'malformed', pointer: '/name' });
  });

  it('are taken in and given rights by whoever signs for their house, each with its entry', async () => {
    const person = await takeInPerson(archive, actorOf(publisher), { name: 'Cleo', rights: ['look', 'sign'] }, AT);
    const about = { title: null, party: 'member' };
    expect(await lastEntry()).toEqual({
      ...{ ...about, kind: 'person-joined', remark: 'look, sign' },
      subjects: [`person ${person.id}`, `party ${publisher.party.id}`],
    });
    const changed = await changeRights(archive, actorOf(publisher), { personId: person.id, rights: ['look'] }, AT);
    expect(changed.rights).toEqual(['look']);
    expect(await lastEntry()).toEqual({
      ...{ ...about, kind: 'rights-changed', remark: 'look' },
      subjects: [`person ${person.id}`],
    });
    const size = await archive.catalogue.log.size();
    await changeRights(archive, actorOf(publisher), { personId: person.id, rights: ['look'] }, AT);
    expect(await archive.catalogue.log.size()).toBe(size);
    const mere = { personId: person.id, partyId: person.partyId };
    expect(await laterRefusalOf(takeInPerson(archive, mere, { name: 'Dan', rights: ['look'] }, AT))).toEqual({
      kind: 'not-allowed',
      what: 'sign',
      missing: 'the right to sign',
    });
  });

  it('of another house are nobody’s to change, and somebody who signs is always left', async () => {
    const foreign = changeRights(archive, actorOf(publisher), { personId: printer.person.id, rights: [] }, AT);
    expect(await laterRefusalOf(foreign)).toEqual({ kind: 'not-found', what: 'person' });
    const last = changeRights(archive, actorOf(publisher), { personId: publisher.person.id, rights: ['look'] }, AT);
    expect(await laterRefusalOf(last)).toMatchObject({ kind: 'not-allowed', what: 'take the right to sign' });
    const blind = changeRights(archive, actorOf(publisher), { personId: publisher.person.id, rights: ['sign'] }, AT);
    expect(await laterRefusalOf(blind)).toMatchObject({ kind: 'malformed', pointer: '/rights' });
  });
});

describe('a title', () => {
  it('is opened between two parties, renamed, and gets its parts, each with its entry', async () => {
    const title = await titleOf();
    const about = { title: title.id };
    expect(await lastEntry()).toEqual({
      ...{ ...about, kind: 'title-opened', party: 'printer', remark: 'Leaves' },
      subjects: [`title ${title.id}`, `publisher ${publisher.party.id}`, `printer ${printer.party.id}`],
    });
    await renameTitle(archive, actorOf(publisher), { titleId: title.id, name: ' More leaves ' }, AT);
    expect(await lastEntry()).toEqual({
      ...{ ...about, kind: 'title-renamed', party: 'publisher', remark: 'More leaves' },
      subjects: [`title ${title.id}`],
    });
    expect(await archive.catalogue.titles.names(title.id)).toEqual(['Leaves', 'More leaves']);
    const order = { titleId: title.id, kind: 'case', label: 'cloth' } as const;
    const part = await openPart(archive, actorOf(publisher), order, AT);
    expect(partName(part)).toBe('Case, cloth');
    expect(await lastEntry()).toEqual({
      ...{ ...about, kind: 'part-opened', party: 'publisher', remark: 'Case, cloth' },
      subjects: [`part ${part.id}`],
    });
    expect(await laterRefusalOf(openPart(archive, actorOf(publisher), order, AT))).toEqual({
      kind: 'out-of-step',
      what: 'a part to open',
      named: 'Case, cloth',
      current: 'there is such a part',
    });
  });

  it('is nobody’s to open between others, or with a party that they may not know of', async () => {
    const between = (publisherId: string, printerId: string, who = printer) =>
      laterRefusalOf(openTitle(archive, actorOf(who), { name: 'Leaves', publisherId, printerId }, AT));
    const [own, second, third] = [printer.party.id, publisher.party.id, other.party.id];
    expect(await between(second, third)).toMatchObject({ kind: 'malformed' });
    expect(await between(own, own)).toMatchObject({ kind: 'malformed' });
    expect(await between(second, third, publisher)).toEqual({ kind: 'not-found', what: 'party' });
    expect(await between(second, '0'.repeat(16), publisher)).toEqual({ kind: 'not-found', what: 'party' });
  });

  it('is seen by whom either side lets see it, until that side takes it back', async () => {
    const title = await titleOf();
    const studio = await bringInParty(archive, actorOf(publisher), { party: 'Studio', person: 'Cleo' }, AT);
    const order = { titleId: title.id, partyId: studio.party.id };
    await giveSight(archive, actorOf(publisher), order, AT);
    expect(await lastEntry()).toMatchObject({ kind: 'sight-given', subjects: [`party ${studio.party.id}`] });
    expect(await archive.catalogue.sight.standing(title.id, studio.party.id)).toBe('sight');
    expect(await laterRefusalOf(giveSight(archive, actorOf(publisher), order, AT))).toMatchObject({
      kind: 'out-of-step',
      current: 'given already',
    });
    expect(await laterRefusalOf(takeSight(archive, actorOf(printer), order, AT))).toEqual({
      kind: 'not-allowed',
      what: 'take sight',
      missing: 'having given it',
    });
    await takeSight(archive, actorOf(publisher), order, AT);
    expect(await lastEntry()).toMatchObject({ kind: 'sight-taken', subjects: [`party ${studio.party.id}`] });
    expect(await archive.catalogue.sight.standing(title.id, studio.party.id)).toBeNull();
    expect(await laterRefusalOf(takeSight(archive, actorOf(publisher), order, AT))).toMatchObject({
      kind: 'out-of-step',
      current: 'not given',
    });
    const unknown = giveSight(archive, actorOf(publisher), { titleId: title.id, partyId: other.party.id }, AT);
    expect(await laterRefusalOf(unknown)).toEqual({ kind: 'not-found', what: 'party' });
    const side = takeSight(archive, actorOf(publisher), { titleId: title.id, partyId: printer.party.id }, AT);
    expect(await laterRefusalOf(side)).toMatchObject({ kind: 'out-of-step', current: 'not given' });
  });
});
