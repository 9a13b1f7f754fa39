/** A program that keeps sending files into the archive in FOLDER; it tells of each that was acknowledged. */
import { randomBytes } from 'node:crypto';
import { writeSync } from 'node:fs';
// Past the door: the door also opens the libraries that read PDFs.
import { archivePaths } from '../../../src/archive/archive-paths.ts';
import { receiveFile } from '../../../src/archive/files/receive-file.ts';
import { openArchive } from '../../../src/archive/open-archive.ts';
import { bringInParty } from '../../../src/archive/titles/people.ts';
import { openPart, openTitle } from '../../../src/archive/titles/titles.ts';
import { openUploads } from '../../../src/archive/uploads/open-uploads.ts';
import { pieces } from '../blobs/streams.ts';

const folder = process.argv[2] ?? '';
const now = (): number => Date.now();
const archive = await openArchive(folder, now());
const printer = await bringInParty(archive, null, { party: 'Offizin', person: 'Ada' }, now());
const ada = { personId: printer.person.id, partyId: printer.party.id };
const publisher = await bringInParty(archive, ada, { party: 'Verlag', person: 'Bruno' }, now());
const sides = { publisherId: publisher.party.id, printerId: printer.party.id };
const title = await openTitle(archive, ada, { name: 'Buch', ...sides }, now());
const part = await openPart(archive, ada, { titleId: title.id, kind: 'book-block' }, now());
const told = { kind: 'revision', name: 'Buch.pdf', remark: '', replaces: null, sha256: null } as const;

const uploads = await openUploads({ archive, folder: archivePaths(folder).uploads, mostBytes: 1e6, now });
const begun = await uploads.begin(ada, part.id, told, 1000);
await uploads.append(ada, begun.id, 0, pieces('half of it'));
writeSync(1, 'ready\n');
writeSync(1, `${part.id} ${begun.id} ${ada.personId} ${ada.partyId}\n`);

for (;;) {
  const { sha256 } = await archive.blobs.put(pieces(randomBytes(100_000)));
  const file = await receiveFile(archive, ada, { ...told, partId: part.id, sha256 }, now());
  writeSync(1, `${file.id}\n`);
}
