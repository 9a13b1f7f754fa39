import { findingsByPlace, inPageOrder } from '../page-order.ts';
import type { Exhibits, TakePicture } from '../pictures/exhibit.ts';
import { encodeJpeg, shrinkTo } from '../pictures/shrink.ts';
import type { ReportSubject } from '../report-subject.ts';
import { writeWhole } from '../write-whole.ts';
import { drawBook } from './book-sheets.ts';
import { drawCover } from './cover.ts';
import { drawFinding } from './finding-block.ts';
import { drawFindingTable } from './finding-table.ts';
import { drawOrder } from './order-sheet.ts';
import { closePaper, openPaper, requireRoom, turnSheet } from './paper.ts';
import { newPictureStock } from './picture-stock.ts';
import { drawSideSheets } from './side-sheets.ts';

/** Long side of a printed close-up: about 220 pixels an inch at its size. */
const PRINTED_PX = 720;
/** A section starts on a new sheet where less than this is left. */
const SECTION_PT = 200;
/** A report without a date still needs one in the file: the same for all. */
const NO_DATE = new Date(0);

/** A PDF report while its pictures come. */
export interface OpenPdf {
  readonly take: TakePicture;
  finish(exhibits: Exhibits): Promise<void>;
}

/** Opens the PDF report of a subject; the file appears whole or not at all, when it is finished. */
export function openPdfReport(subject: ReportSubject, path: string): OpenPdf {
  const stock = newPictureStock();
  return {
    take: async (shot, picture, use) => {
      stock.put(shot.name, await encodeJpeg(use !== 'close-up' ? picture : await shrinkTo(picture, PRINTED_PX)));
    },
    finish: async (exhibits) => {
      const { report, names } = subject;
      const findings = inPageOrder(report);
      const title = `${names.revision} against the dummy ${names.dummy}`;
      const paper = openPaper(title, subject.madeAt ?? NO_DATE);
      drawCover(paper, subject, findings);
      turnSheet(paper);
      drawSideSheets(paper, { report, findings, exhibits, stock });
      drawBook(paper, { report, findings, exhibits, stock });
      drawOrder(paper, report, findings);
      requireRoom(paper, SECTION_PT);
      drawFindingTable(paper, findings);
      for (const { place, own } of findingsByPlace(findings)) {
        const entry = paper.document.outline.addItem(place);
        for (const { finding, number } of own) {
          drawFinding(paper, finding, number, { exhibit: exhibits.findings.get(finding.id) ?? null, stock }, entry);
        }
      }
      await writeWhole(path, await closePaper(paper, `Witness Leaf · ${title}`));
    },
  };
}
