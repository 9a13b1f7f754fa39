import { mkdir } from 'node:fs/promises';
import type { Person } from '../cast.ts';
import type { Stage } from '../stage.ts';
import { browserAt, type Visitor } from '../visitor.ts';

interface BroughtIn {
  readonly person: { readonly party: string };
  readonly invitation: { readonly secret: string };
}

/** The first account by the link of the first start, the other side and the author by invitation, the title opened. */
export async function playAccounts(stage: Stage): Promise<void> {
  const { cast, tell } = stage;
  const { printer, publisher, author } = cast;
  const atPrinter = browserAt(stage.origin);
  tell(`${printer.name} of ${printer.organisation} follows the link of the first start and makes the first account.`);
  const party = await join(stage, atPrinter, printer, {
    invitation: stage.firstLink.split('#')[1] ?? '',
    first: { party: printer.organisation, person: printer.name },
  });
  const bring = (who: Person): Promise<BroughtIn> =>
    atPrinter.post('/api/parties', { party: who.organisation, person: who.name });
  tell(`${printer.name} brings in ${publisher.organisation}; ${publisher.name} accepts the invitation.`);
  const publishing = await bring(publisher);
  await join(stage, browserAt(stage.origin), publisher, { invitation: publishing.invitation.secret });
  const sides = { publisher: publishing.person.party, printer: party };
  const title = await atPrinter.post<{ readonly id: string }>('/api/titles', { name: stage.title, ...sides });
  const kind = { kind: 'book-block' };
  const part = await atPrinter.post<{ readonly id: string }>(`/api/titles/${title.id}/parts`, kind);
  Object.assign(stage.ids, { title: title.id, part: part.id });
  tell(`The title “${stage.title}” is opened, with one part: its book block.`);
  const writing = await bring(author);
  await join(stage, browserAt(stage.origin), author, { invitation: writing.invitation.secret });
  await atPrinter.put(`/api/titles/${title.id}/sight/${writing.person.party}`);
  tell(`${author.name}, whose book it is, is given sight of it, and may sign nothing.`);
}

/** Makes an account, and a token for the machine of its owner. @returns the id of the party */
async function join(
  stage: Stage,
  browser: Visitor,
  person: Person,
  entrance: { readonly invitation: string; readonly first?: object },
): Promise<string> {
  const { signInName, password } = person;
  await browser.post('/api/accounts', { ...entrance, signInName, password });
  const { secret } = await browser.post<{ readonly secret: string }>('/api/tokens', { label: 'file desk' });
  stage.tokens.set(person, secret);
  await mkdir(stage.homeOf(person).folder, { recursive: true });
  return (await browser.get<{ readonly party: { readonly id: string } }>('/api/me')).party.id;
}
