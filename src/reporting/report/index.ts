/** The room's other door: reports of a check and their words, without copies, packs and the libraries that those need. */
export { requireReportFolder } from '../html/report-folder.ts';
export { inPageOrder } from '../page-order.ts';
export { formatReport } from '../report-json.ts';
export { FINDING_WORDS } from '../words/finding-words.ts';
export { formatBytes, keepUnits } from '../words/figures.ts';
export { placeWords } from '../words/place-words.ts';
export { printable } from '../words/printable.ts';
export { cellName, inkName, planSentence, screenWords, sideName, spotSentence } from '../words/sheet-words.ts';
export { verdictSentence } from '../words/verdict-words.ts';
export { writeReports } from '../write-reports.ts';
export { writeWhole } from '../write-whole.ts';
