import { TOLERANCE_TABLE } from '../model/index.ts';
import type {
  Box,
  Finding,
  FindingKind,
  Measured,
  Report,
  ReportSeparation,
  ReportSheets,
  ToleranceName,
} from '../model/index.ts';
import type { Json } from './json-layout.ts';
import { layOutJson } from './json-layout.ts';

/** The order of the measured fields of each kind; what is not named here follows by name. */
const MEASURED_ORDER: { readonly [K in FindingKind]: readonly (keyof Measured[K] & string)[] } = {
  'page-moved': ['fromPosition', 'toPosition'],
  'page-missing': [],
  'page-added': [],
  'page-repeated': ['firstAt'],
  'page-emptied': [],
  'page-resized': ['dummyMm', 'revisionMm'],
  'page-turned': ['degrees'],
  'page-unreadable': ['file', 'cause'],
  'page-outdated': ['file', 'revisionNumber', 'page'],
  'page-in-wrong-cell': ['belongsToPage', 'sheet', 'side', 'row', 'column'],
  'pages-exchanged': ['otherPage', 'sheet', 'side', 'row', 'column'],
  'sides-exchanged': ['sheet'],
  'section-out-of-order': ['sheet', 'atSheet'],
  'collating-mark-off': ['sheet', 'marksSection'],
  'back-out-of-register': ['sheet', 'shiftXmm', 'shiftYmm'],
  'page-off-place': ['shiftXmm', 'shiftYmm', 'sheet', 'side', 'row', 'column'],
  'creep-off-plan': ['sheet', 'plannedMm', 'foundMm'],
  'separation-missing': ['ink', 'sheet', 'side'],
  'separation-doubled': ['ink', 'file', 'sheet', 'side'],
  'separation-of-another-sheet': ['ink', 'belongsToSheet', 'sheet', 'side'],
  'inks-exchanged': ['ink', 'otherInk', 'sheet', 'side'],
  'separation-out-of-register': ['ink', 'shiftXmm', 'shiftYmm', 'sheet', 'side'],
  'separation-empty': ['ink', 'sheet', 'side'],
  'screen-coarse': ['ink', 'rulingLpi', 'limitLpi', 'sheet', 'side'],
  'picture-missing': [],
  'picture-added': [],
  'picture-replaced': ['likeness'],
  'picture-moved': ['shiftXmm', 'shiftYmm'],
  'picture-resized': ['scale'],
  'crop-altered': ['shiftXmm', 'shiftYmm', 'scale', 'cutMm', 'uncertaintyMm', 'decidedBy'],
  'picture-turned': ['degrees'],
  'picture-mirrored': ['axis'],
  'picture-retouched': ['areaMm2'],
  'picture-recoloured': ['meanDeltaE00', 'worstDeltaE00'],
  'picture-coarse': ['ppi', 'limitPpi'],
  'text-changed': ['before', 'after'],
  'artwork-changed': ['areaMm2'],
};

const SEPARATION_ORDER: readonly (keyof ReportSeparation)[] = [
  'file',
  'sha256',
  'bytes',
  'sheet',
  'side',
  'ink',
  'width',
  'height',
  'ppi',
  'bits',
  'coveragePercent',
  'rulingLpi',
  'screenDeg',
];
const BOX_ORDER = ['x', 'y', 'width', 'height'];
const SIDES_ORDER = ['left', 'right', 'top', 'bottom', 'width', 'height'];
/** Ratios keep four places; lengths, areas, angles and colour differences two, finer than anything is measured. */
const RATIOS: ReadonlySet<string> = new Set(['scale', 'likeness']);

/**
 * A report as the published document `witnessleaf-report/1`: the same report always gives the same bytes. Members stand
 * in the published order; lengths are rounded to 0.01 mm, ratios to 0.0001. Ends with a newline.
 */
export function formatReport(report: Report): string {
  const document: Json = {
    format: report.format,
    dummy: identity(report.dummy),
    revision: identity(report.revision),
    tolerances: Object.fromEntries(
      (Object.keys(TOLERANCE_TABLE) as ToleranceName[]).map((name) => [name, report.tolerances[name]]),
    ),
    pages: report.pages.map(({ dummyPage, revisionPage, state, colour }) => ({
      dummyPage,
      revisionPage,
      state,
      ...(colour === undefined ? {} : { colour: rounded(colour, ['meanDeltaE00', 'worstDeltaE00']) }),
    })),
    findings: report.findings.map((finding) => ({
      id: finding.id,
      kind: finding.kind,
      weight: finding.weight,
      dummyPage: finding.dummyPage,
      revisionPage: finding.revisionPage,
      box: boxOrNull(finding.box),
      revisionBox: boxOrNull(finding.revisionBox),
      measured: measured(finding),
      says: finding.says,
    })),
    verdict: report.verdict,
    renderer: report.renderer,
    cautions: report.cautions,
    ...(report.sheets === undefined ? {} : { sheets: sheetsOf(report.sheets) }),
  };
  return `${layOutJson(document)}\n`;
}

function sheetsOf({ plan, binding, filePages, located, sides, separations }: ReportSheets): Json {
  return {
    plan,
    binding,
    filePages,
    located,
    sides: sides.map(({ sheet, side, filePage, width, height, cells }) => ({
      sheet,
      side,
      filePage,
      width: round(width, 2),
      height: round(height, 2),
      cells: cells.map(({ page, row, column, box, turnDeg }) => ({ page, row, column, box: boxOrNull(box), turnDeg })),
    })),
    ...(separations === undefined ? {} : { separations: separations.map((one) => rounded(one, SEPARATION_ORDER)) }),
  };
}

function identity({ sha256, bytes, pages }: Report['dummy']): Json {
  return { sha256, bytes, pages };
}

function boxOrNull(box: Box | null): Json {
  return box === null ? null : rounded(box, BOX_ORDER);
}

function measured(finding: Finding): Json {
  return rounded(finding.measured, MEASURED_ORDER[finding.kind]);
}

/** An object's members in the order given, the rest after them by name, numbers rounded by what they are. */
function rounded(values: object, order: readonly string[]): Json {
  const entries: readonly (readonly [string, unknown])[] = Object.entries(values);
  const rank = (name: string): number => (order.includes(name) ? order.indexOf(name) : order.length);
  const sorted = [...entries].sort(
    ([one], [other]) => rank(one) - rank(other) || (one < other ? -1 : one > other ? 1 : 0),
  );
  return Object.fromEntries(sorted.map(([name, value]) => [name, roundedValue(name, value)]));
}

function roundedValue(name: string, value: unknown): Json {
  if (typeof value === 'number') return round(value, RATIOS.has(name) ? 4 : 2);
  if (typeof value === 'object' && value !== null && !Array.isArray(value)) return rounded(value, SIDES_ORDER);
  return value as Json;
}

function round(value: number, places: number): number {
  const factor = 10 ** places;
  // Adding zero turns a negative zero into a plain one.
  return Math.round(value * factor) / factor + 0;
}
