import { fingerprintOf, fingerprintOfHash } from '../../sealing/index.ts';
import { STYLE } from '../pdf/paper.ts';
import type { Setter } from '../pdf/type-setting.ts';
import { formatBytes, formatCount } from '../words/figures.ts';
import type { UnsealedCopyOrder } from './copy-order.ts';
import { drawHashTable } from './hash-table.ts';
import { closeSheets, openSheets, say, sayTerm, SMALL } from './sheet.ts';
import { FOR_PARTY, longDate } from './slug-words.ts';

/** Where the word of a signed copy ends; printed on its certificate. */
export const COPY_CAUTIONS: readonly string[] = [
  'This certificate records what was signed, by which keys and when. It is evidence, not legal advice.',
  'What a signature binds, and whom, is for the contract between the parties and for the law of the place.',
  'Pages on a screen or from an office printer are no colour proof. The contract proof and the pass on press decide about colour.',
];

/**
 * Draws the certificate of a signed copy behind the slugs.
 *
 * @param appended  whether the dummy's file stands unchanged at the head of the copy, which anybody can check
 * @returns how many sheets it takes
 */
export async function drawCertificate(setter: Setter, order: UnsealedCopyOrder, appended: boolean): Promise<number> {
  const { title, part, file, fileName, head, certificate, signatories, inForceSince, at } = order;
  const sheets = openSheets(setter, 'SIGNED COPY');
  say(sheets, title, STYLE.title, { after: 2 });
  const pages = formatCount(file.pages.length, 'page');
  say(sheets, `${part}, ${pages}, in force since ${longDate(inForceSince)}`, STYLE.subtitle, { after: 18 });
  say(
    sheets,
    'This is the dummy that both parties signed, page by page. Each page has a line of type added outside its trim; within the trim nothing is changed. Later files of this part are held against it.',
    STYLE.text,
    { after: 16 },
  );
  for (const one of signatories) {
    sayTerm(sheets, FOR_PARTY[one.party].toUpperCase(), [
      `${one.name}, ${one.organisation}`,
      `signed on ${moment(one.at)} with the key ${fingerprintOfHash(Buffer.from(one.certificate, 'hex'))}`,
      `Certificate, SHA-256 ${one.certificate}`,
      `Statement ${one.statement}, entry ${one.logIndex} of the log`,
    ]);
  }
  sayTerm(sheets, 'THE FILE', [
    fileName,
    `${pages}, ${formatBytes(file.bytes)} (${file.bytes} bytes)`,
    `SHA-256 ${file.sha256}`,
  ]);
  const { timeStamp } = head;
  sayTerm(sheets, 'THE LOG', [
    head.origin,
    `${formatCount(head.size, 'entry', 'entries')} when this copy was made, root ${head.root}`,
    timeStamp === undefined
      ? 'This head has no time-stamp of an authority yet: the times are those of the archive’s own clock.'
      : `This head was time-stamped on ${moment(timeStamp.at)} by ${timeStamp.authority}.`,
  ]);
  sayTerm(sheets, 'THIS COPY', [
    `Made on ${moment(at)} and sealed by the archive with the key ${await fingerprintOf(certificate)}`,
    'The seal is a signature of this PDF file. It says that the archive made this copy and that no byte of it has changed since; a program that checks signatures in PDF files shows it. The parties’ own signatures are in the evidence pack of the title.',
    appended
      ? `The first ${file.bytes} bytes of this copy are the file above, byte for byte: their SHA-256 is the one given there.`
      : 'The file above does not end as PDF files should, so this copy was written anew from its objects; it does not contain that file byte for byte.',
  ]);
  sayTerm(sheets, 'WHERE ITS WORD ENDS', COPY_CAUTIONS, { ...SMALL, colour: STYLE.quiet.colour });
  drawHashTable(
    sheets,
    file.pages,
    'As they were signed: SHA-256 of what each page of the file draws, in the form witnessleaf-page/1. The line in the slug counts as drawn, so the pages of this copy have other hashes. The line and its code give the first 16 digits.',
  );
  closeSheets(sheets, `Signed copy · ${title} · ${part}`);
  return sheets.count;
}

function moment(instant: string): string {
  return `${longDate(instant)} at ${instant.slice(11, 16)}\u00a0UTC`;
}
