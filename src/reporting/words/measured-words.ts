import type { CutMm, Finding, FindingKind, FindingOf, Measured } from '../../model/index.ts';
import { formatMm, formatNumber, formatScale, formatShift } from './figures.ts';

/** One measured figure in words. */
export interface Figure {
  readonly term: string;
  readonly value: string;
}

type Teller<K extends FindingKind> = (measured: Measured[K]) => readonly Figure[];

const nothing = (): readonly Figure[] => [];
const figure = (term: string, value: string): Figure => ({ term, value });
const size = (mm: { readonly width: number; readonly height: number }): string =>
  `${formatNumber(mm.width, 2)} × ${formatNumber(mm.height, 2)} mm`;

const placeOnSheet = ({
  sheet,
  side,
  row,
  column,
}: Omit<Measured['page-off-place'], 'shiftXmm' | 'shiftYmm'>): string =>
  `sheet ${sheet} ${side === 'both' ? '' : `${side}, `}row ${row}, column ${column}`;

const onPlate = ({ sheet, side, ink }: Measured['separation-empty']): Figure =>
  figure('Plate', `${ink}, sheet ${sheet}${side === 'both' ? '' : ` ${side}`}`);

const TELLERS: { readonly [K in FindingKind]: Teller<K> } = {
  'page-moved': ({ fromPosition, toPosition }) => [
    figure('Place in the dummy', `${fromPosition}`),
    figure('Place in the revision', `${toPosition}`),
  ],
  'page-missing': nothing,
  'page-added': nothing,
  'page-repeated': ({ firstAt }) => [figure('Stands first as', `page ${firstAt} of the revision`)],
  'page-emptied': nothing,
  'page-resized': ({ dummyMm, revisionMm }) => [
    figure('Trimmed size in the dummy', size(dummyMm)),
    figure('Trimmed size in the revision', size(revisionMm)),
  ],
  'page-turned': ({ degrees }) => [figure('Turned by', `${degrees}° clockwise`)],
  'page-unreadable': ({ file, cause }) => [figure('File', `the ${file}`), figure('Cause', cause)],
  'page-outdated': ({ file, revisionNumber, page }) => [
    figure('As in', revisionNumber === null ? file : `revision ${revisionNumber}, ${file}`),
    figure('There', `page ${page}`),
  ],
  'page-in-wrong-cell': ({ belongsToPage, ...at }) => [
    figure('Stands in the cell of', `page ${belongsToPage}`),
    figure('On', placeOnSheet(at)),
  ],
  'pages-exchanged': ({ otherPage, ...at }) => [
    figure('Exchanged with', `page ${otherPage}`),
    figure('On', placeOnSheet(at)),
  ],
  'sides-exchanged': ({ sheet }) => [figure('Sheet', `${sheet}`)],
  'section-out-of-order': ({ sheet, atSheet }) => [
    figure('Sheet', `${sheet}`),
    figure('Stands at the place of', `sheet ${atSheet}`),
  ],
  'collating-mark-off': ({ sheet, marksSection }) => [
    figure('Sheet', `${sheet}`),
    figure('Its mark is that of section', `${marksSection}`),
  ],
  'back-out-of-register': ({ sheet, shiftXmm, shiftYmm }) => [
    figure('Sheet', `${sheet}`),
    figure('Back against front', formatShift({ x: shiftXmm, y: shiftYmm })),
  ],
  'page-off-place': ({ shiftXmm, shiftYmm, ...at }) => [
    figure('Off its place', formatShift({ x: shiftXmm, y: shiftYmm })),
    figure('On', placeOnSheet(at)),
  ],
  'creep-off-plan': ({ sheet, plannedMm, foundMm }) => [
    figure('Sheet', `${sheet}`),
    figure('Innermost leaf moved', `${formatMm(foundMm)}, planned ${formatMm(plannedMm)}`),
  ],
  'separation-missing': (at) => [onPlate(at)],
  'separation-doubled': ({ file, ...at }) => [onPlate(at), figure('File', file)],
  'separation-of-another-sheet': ({ belongsToSheet, ...at }) => [
    onPlate(at),
    figure('Belongs to', belongsToSheet === null ? 'none of the sheets sent' : `sheet ${belongsToSheet}`),
  ],
  'inks-exchanged': ({ otherInk, ...at }) => [onPlate(at), figure('Shows the ink of', otherInk)],
  'separation-out-of-register': ({ shiftXmm, shiftYmm, ...at }) => [
    onPlate(at),
    figure('Against the other plates', formatShift({ x: shiftXmm, y: shiftYmm })),
  ],
  'separation-empty': (at) => [onPlate(at)],
  'screen-coarse': ({ rulingLpi, limitLpi, ...at }) => [
    onPlate(at),
    figure('Screen ruling', `${formatNumber(rulingLpi, 0)} lines an inch`),
    figure('Limit', `${formatNumber(limitLpi, 0)} lines an inch`),
  ],
  'picture-missing': nothing,
  'picture-added': nothing,
  'picture-replaced': ({ likeness }) => [figure('Likeness', `${formatNumber(likeness * 100, 0)} %`)],
  'picture-moved': ({ shiftXmm, shiftYmm }) => [figure('Moved', formatShift({ x: shiftXmm, y: shiftYmm }))],
  'picture-resized': ({ scale }) => [figure('Size', formatScale(scale))],
  'crop-altered': (measured) => [
    figure('Content shifted', formatShift({ x: measured.shiftXmm, y: measured.shiftYmm })),
    figure('Content scaled', formatScale(measured.scale)),
    ...cutFigures(measured.cutMm),
    figure('Certain to', `± ${formatMm(measured.uncertaintyMm)}`),
    figure('Decided by', measured.decidedBy === 'pixels' ? 'the pixels' : 'the placement in the files'),
  ],
  'picture-turned': ({ degrees }) => [
    figure('Turned by', `${formatNumber(Math.abs(degrees), 2)}° ${degrees < 0 ? 'anticlockwise' : 'clockwise'}`),
  ],
  'picture-mirrored': ({ axis }) => [figure('Mirrored', axis === 'horizontal' ? 'left for right' : 'top for bottom')],
  'picture-retouched': ({ areaMm2 }) => [figure('Area', `${formatNumber(areaMm2, 1)} mm²`)],
  'picture-recoloured': ({ meanDeltaE00, worstDeltaE00 }) => [
    figure('Mean colour difference', `${meanDeltaE00.toFixed(1)} (CIEDE2000)`),
    figure('Worst colour difference', `${worstDeltaE00.toFixed(1)} (CIEDE2000)`),
  ],
  'picture-coarse': ({ ppi, limitPpi }) => [
    figure('Resolution at this size', `${formatNumber(ppi, 0)} ppi`),
    figure('Limit', `${formatNumber(limitPpi, 0)} ppi`),
  ],
  'text-changed': ({ before, after }) => [
    figure('In the dummy', before === '' ? 'nothing' : `“${before}”`),
    figure('In the revision', after === '' ? 'nothing' : `“${after}”`),
  ],
  'artwork-changed': ({ areaMm2 }) => [figure('Area', `${formatNumber(areaMm2, 1)} mm²`)],
};

/** What was measured for a finding, in words with units, in the order in which a person wants to know it. */
export function measuredFigures(finding: Finding): readonly Figure[] {
  return tell(finding);
}

/** The edges at which a picture shows more or less than in the dummy: "1.2 mm lost", "0.8 mm more". */
function cutFigures(cutMm: CutMm): readonly Figure[] {
  return (['left', 'right', 'top', 'bottom'] as const)
    .filter((edge) => Math.abs(cutMm[edge]) >= 0.005)
    .map((edge) => figure(`At the ${edge}`, formatCut(cutMm[edge])));
}

/** How much picture an edge lost, or gained where `cutMm` is negative. */
export function formatCut(cutMm: number): string {
  return `${formatMm(Math.abs(cutMm))} ${cutMm > 0 ? 'lost' : 'more'}`;
}

function tell<K extends FindingKind>(finding: FindingOf<K>): readonly Figure[] {
  return TELLERS[finding.kind](finding.measured);
}
