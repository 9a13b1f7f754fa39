import { expect, test } from 'vitest';
import { done, peopledService } from './peopled-service.ts';

const service = await peopledService();
const { printer, publisher, guest, stranger, looker, idle, ids } = service;

test('a title shows its two sides, its parts, and what one is to it', async () => {
  const party = (id: string, name: string) => ({ id, name });
  const shown = {
    id: ids.title,
    name: 'Ein Winterbuch',
    publisher: party(ids.publisherParty, 'Verlag am Kai'),
    printer: party(ids.printerParty, 'Offizin Weiher'),
    at: '2031-03-02T09:00:00.000Z',
  };
  const part = {
    id: ids.part,
    title: ids.title,
    kind: 'book-block',
    label: '',
    name: 'Book block',
    at: '2031-03-02T09:00:00.000Z',
  };
  const path = `/api/titles/${ids.title}`;
  const whole = { formerNames: [], parts: [part] };
  expect((await looker.get(path)).json).toEqual({ ...shown, ...whole, standing: 'publisher' });
  expect((await guest.get(path)).json).toEqual({ ...shown, ...whole, standing: 'sight' });
  expect((await guest.get('/api/titles')).json).toEqual({ items: [{ ...shown, standing: 'sight' }], next: null });
  expect((await stranger.get('/api/titles')).json).toEqual({ items: [], next: null });
  expect((await idle.get('/api/titles')).json).toEqual({ items: [], next: null });
});

test('a list of titles goes on where it stopped, the newest first', async () => {
  const sides = { publisher: ids.publisherParty, printer: ids.printerParty };
  const later = ['Hafen', 'Luft'].map((name) => done(publisher.send('POST', '/api/titles', { name, ...sides }), 201));
  await Promise.all(later);
  const names: string[] = [];
  for (let path: string | null = '/api/titles?most=2'; path !== null;) {
    const list = (await printer.get(path)).json as { items: { name: string }[]; next: string | null };
    expect(list.items.length).toBeLessThanOrEqual(2);
    names.push(...list.items.map(({ name }) => name));
    path = list.next === null ? null : `/api/titles?most=2&after=${list.next}`;
  }
  expect(names.slice().sort()).toEqual(['Ein Winterbuch', 'Hafen', 'Luft']);
  expect(names[2]).toBe('Ein Winterbuch');
});

test('a name that was changed meanwhile is not changed by whoever saw the former one', async () => {
  const path = `/api/titles/${ids.title}`;
  const tag = (await printer.get(path)).headers.get('etag') ?? '';
  expect((await printer.get(path, { 'If-None-Match': tag })).status).toBe(304);
  const own = (await publisher.get(path)).headers.get('etag') ?? '';
  await done(publisher.send('PATCH', path, { name: 'Winter' }, { 'If-Match': own }), 200);
  const late = await printer.send('PATCH', path, { name: 'Wintertage' }, { 'If-Match': tag });
  expect([late.status, (late.json as { type: string }).type]).toEqual([412, '/api/problems/condition-failed']);
  const anyway = (await done(printer.send('PATCH', path, { name: 'Wintertage' }), 200)) as { formerNames: string[] };
  expect(anyway.formerNames).toEqual(['Ein Winterbuch', 'Winter']);
});

test('sight that is taken is gone at once, and only its giver takes it', async () => {
  const path = `/api/titles/${ids.title}/sight/${ids.guestParty}`;
  expect((await guest.get(`/api/parts/${ids.part}`)).status).toBe(200);
  expect((await publisher.send('DELETE', path)).status).toBe(403);
  await done(printer.send('DELETE', path), 204);
  expect((await guest.get(`/api/parts/${ids.part}`)).status).toBe(404);
  expect((await printer.send('DELETE', path)).status).toBe(409);
  await done(printer.send('PUT', path), 204);
  expect((await guest.get(`/api/parts/${ids.part}`)).status).toBe(200);
});

test('somebody whose link was lost gets another; somebody who is in gets none', async () => {
  const { person, invitation } = (await done(
    publisher.send('POST', '/api/people', { name: 'Nora', rights: ['look'] }),
    201,
  )) as { person: { id: string }; invitation: { secret: string } };
  const again = `/api/people/${person.id}/invitations`;
  const second = (await done(publisher.send('POST', again), 201)) as { secret: string };
  expect(second.secret).not.toBe(invitation.secret);
  expect((await stranger.send('POST', again)).status).toBe(404);
  expect((await looker.send('POST', again)).status).toBe(403);
  const told = { invitation: second.secret, signInName: 'nora', password: 'ein Blatt bleibt stehen' };
  await done(service.nobody.send('POST', '/api/accounts', told), 201);
  expect((await publisher.send('POST', again)).status).toBe(404);
  const first = { ...told, invitation: invitation.secret };
  expect((await service.nobody.send('POST', '/api/accounts', first)).status).toBe(404);
});

test('what does not fit is told with its place', async () => {
  const wrong = await printer.send('POST', '/api/titles', { name: '', publisher: ids.publisherParty, printer: 1 });
  expect(wrong.json).toMatchObject({
    type: '/api/problems/malformed',
    status: 400,
    pointer: '/body/name',
    found: '""',
  });
  const unknown = await printer.send('PATCH', `/api/titles/${ids.title}`, { name: 'x', owner: 'me' });
  expect(unknown.json).toMatchObject({ status: 400, pointer: '/body' });
  const broken = await printer.send('POST', '/api/titles', new TextEncoder().encode('{"name":'), {
    'Content-Type': 'application/json',
  });
  expect(broken.json).toMatchObject({ type: '/api/problems/malformed', status: 400, pointer: 'request' });
  const plain = await printer.send('POST', '/api/titles', new TextEncoder().encode('x'), {
    'Content-Type': 'text/plain',
  });
  expect(plain.json).toMatchObject({ type: '/api/problems/unfit-media', status: 415 });
  expect((await printer.get('/api/titles?most=0')).json).toMatchObject({ status: 400, pointer: '/query/most' });
  const method = await printer.send('DELETE', '/api/titles');
  expect([method.status, method.headers.get('allow')]).toEqual([405, 'GET, HEAD, POST']);
});
