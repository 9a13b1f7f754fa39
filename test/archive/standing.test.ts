import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { requireFile, requirePart, requirePerson, requireReport, requireStanding } from '../../src/archive/index.ts';
import type { Actor, Right, SentFile } from '../../src/archive/index.ts';
import { laterRefusalOf } from './later-refusal-of.ts';
import { AT, dummyInForce, keepReport, sendFile, twoParties, type TwoParties } from './two-parties.ts';

const ALL: readonly Right[] = ['look', 'send-files', 'sign'];

let sides: TwoParties;
let file: SentFile;
let report: string;
const people: Record<string, Actor> = {};

beforeAll(async () => {
  sides = await twoParties();
  const { catalogue } = sides.archive;
  const dummy = await dummyInForce(sides);
  file = await sendFile(sides, sides.printer, { kind: 'revision', name: 'revision.pdf' });
  report = (await keepReport(sides, { dummy, file }, [])).id;
  const byPersonId = sides.publisher.actor.personId;
  const person = async (partyId: string, rights: readonly Right[]): Promise<Actor> => {
    const { id } = await catalogue.people.add({ partyId, name: 'Somebody', rights, byPersonId, at: AT });
    return { personId: id, partyId };
  };
  const studio = (await catalogue.parties.add({ name: 'Studio', at: AT })).id;
  const stranger = (await catalogue.parties.add({ name: 'Another publisher', at: AT })).id;
  await catalogue.sight.give({ titleId: sides.title.id, partyId: studio, byPersonId, at: AT });
  people['who signs for the publisher'] = sides.publisher.actor;
  people['who sends files for the printer'] = await person(sides.printer.actor.partyId, ['look', 'send-files']);
  people['who looks for the printer'] = await person(sides.printer.actor.partyId, ['look']);
  people['without a right at the printer'] = await person(sides.printer.actor.partyId, []);
  people['who was given sight'] = await person(studio, ALL);
  people['of another house'] = await person(stranger, ALL);
  people['who says to be of a house that is not theirs'] = {
    personId: people['of another house'].personId,
    partyId: sides.publisher.actor.partyId,
  };
  people['that there is not'] = { personId: '0'.repeat(16), partyId: sides.publisher.actor.partyId };
});
afterAll(() => sides.archive.close());

const YES = 'nothing was refused';
const notFound = (what: string): unknown => ({ kind: 'not-found', what });
const missing = (right: Right, what?: string): unknown => {
  const to = right === 'sign' ? 'sign' : 'send files';
  return { kind: 'not-allowed', what: to, missing: what ?? `the right to ${to}` };
};
const GUEST = 'the role of publisher or printer';

describe('somebody', () => {
  it.each([
    ['who signs for the publisher', YES, YES, YES],
    ['who sends files for the printer', YES, YES, missing('sign')],
    ['who looks for the printer', YES, missing('send-files'), missing('sign')],
    ['without a right at the printer', 'hidden', 'hidden', 'hidden'],
    ['who was given sight', YES, missing('send-files', GUEST), missing('sign', GUEST)],
    ['of another house', 'hidden', 'hidden', 'hidden'],
    ['who says to be of a house that is not theirs', 'hidden', 'hidden', 'hidden'],
    ['that there is not', 'hidden', 'hidden', 'hidden'],
  ])('%s looks, sends files and signs as they may', async (who, ...answers) => {
    const tables = sides.archive.catalogue;
    const actor = people[who]!;
    for (const [at, right] of ALL.entries()) {
      const asked = {
        title: requireStanding(tables, actor, sides.title.id, right),
        part: requirePart(tables, actor, sides.part.id, right),
        file: requireFile(tables, actor, file.id, right),
        report: requireReport(tables, actor, report, right),
      };
      for (const [what, answer] of Object.entries(asked)) {
        expect(await laterRefusalOf(answer)).toEqual(answers[at] === 'hidden' ? notFound(what) : answers[at]);
      }
    }
  });

  it('is told of what they may not know in the same words as of what there is not', async () => {
    const tables = sides.archive.catalogue;
    const [insider, outsider] = [sides.publisher.actor, people['of another house']!];
    const none = '0'.repeat(16);
    for (const right of ALL) {
      const nothing = await Promise.all([
        laterRefusalOf(requireStanding(tables, insider, none, right)),
        laterRefusalOf(requirePart(tables, insider, none, right)),
        laterRefusalOf(requireFile(tables, insider, none, right)),
        laterRefusalOf(requireReport(tables, insider, none, right)),
      ]);
      const hidden = await Promise.all([
        laterRefusalOf(requireStanding(tables, outsider, sides.title.id, right)),
        laterRefusalOf(requirePart(tables, outsider, sides.part.id, right)),
        laterRefusalOf(requireFile(tables, outsider, file.id, right)),
        laterRefusalOf(requireReport(tables, outsider, report, right)),
      ]);
      expect(hidden).toEqual(nothing);
    }
  });

  it('is told what they are to the title', async () => {
    const { title, standing, person, part } = await requirePart(
      sides.archive.catalogue,
      people['who was given sight']!,
      sides.part.id,
    );
    expect([title.name, standing, person.name, part.kind]).toEqual([
      'A Winter’s Round',
      'sight',
      'Somebody',
      'book-block',
    ]);
  });

  it('acts for their own house alone, with the right for it', async () => {
    const tables = sides.archive.catalogue;
    expect((await requirePerson(tables, sides.publisher.actor, 'sign')).name).toBe('Anaïs Ödegård');
    expect(await laterRefusalOf(requirePerson(tables, people['who looks for the printer']!, 'sign'))).toEqual(
      missing('sign'),
    );
    const pretender = people['who says to be of a house that is not theirs']!;
    expect(await laterRefusalOf(requirePerson(tables, pretender, 'look'))).toEqual(notFound('person'));
  });
});
