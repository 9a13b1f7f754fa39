export { assembleReport } from './assemble-report.ts';
export { labFromSrgbBytes } from './colour/lab.ts';
export { comparePages, type DrawnFacts, type PageComparison, type PageTask } from './compare-pages.ts';
export { fitBookConversion } from './conversion/book-conversion.ts';
export type { ColourMap } from './conversion/colour-map.ts';
export { pagesToDraw } from './pairing/equal-pages.ts';
export { pairPages } from './pairing/pair-pages.ts';
export type { PairedPages, PageView, Pairing } from './pairing/page-view.ts';
export { tellCoarsePictures } from './pictures/coarse-pictures.ts';
