import type { Box, Deg, Mm, Ppi } from './measure.ts';

/** `stop`: no plates before somebody decides. `look`: a person should see it. `note`: for the record. */
export type Weight = 'stop' | 'look' | 'note';

/** How much picture is lost at each edge, in mm on the dummy's scale; negative where more shows. */
export interface CutMm {
  readonly left: Mm;
  readonly right: Mm;
  readonly top: Mm;
  readonly bottom: Mm;
}

interface SizeMm {
  readonly width: Mm;
  readonly height: Mm;
}

/** The plate of one ink of a side: a process ink, or a spot colour by its name. */
interface OnPlate {
  readonly sheet: number;
  readonly side: 'front' | 'back' | 'both';
  readonly ink: string;
}

type Nothing = Readonly<Record<string, never>>;

/** A place on imposed sheets. */
interface OnSheet {
  readonly sheet: number;
  readonly side: 'front' | 'back' | 'both';
  /** From 1, from the top and from the left. */
  readonly row: number;
  readonly column: number;
}

/** What is measured for each kind of finding; the fields of the published report. Further fields may be added. */
export interface Measured {
  readonly 'page-moved': { readonly fromPosition: number; readonly toPosition: number };
  readonly 'page-missing': Nothing;
  readonly 'page-added': Nothing;
  readonly 'page-repeated': { readonly firstAt: number };
  readonly 'page-emptied': Nothing;
  readonly 'page-resized': { readonly dummyMm: SizeMm; readonly revisionMm: SizeMm };
  readonly 'page-turned': { readonly degrees: 90 | 180 | 270 };
  /** Added to the published kinds: a page that could not be read, on either side, with its cause. */
  readonly 'page-unreadable': { readonly file: 'dummy' | 'revision'; readonly cause: string };
  /** Only of kept files: the page shows what one of an earlier file showed, whose name and page are told. */
  readonly 'page-outdated': { readonly file: string; readonly revisionNumber: number | null; readonly page: number };
  /** Of imposed sheets: a page stands where another one belongs. */
  readonly 'page-in-wrong-cell': OnSheet & { readonly belongsToPage: number };
  readonly 'pages-exchanged': OnSheet & { readonly otherPage: number };
  readonly 'sides-exchanged': { readonly sheet: number };
  /** A sheet stands in the file where another one belongs. */
  readonly 'section-out-of-order': { readonly sheet: number; readonly atSheet: number };
  /** The collating mark of a sheet is that of another section than its pages are. */
  readonly 'collating-mark-off': { readonly sheet: number; readonly marksSection: number };
  readonly 'back-out-of-register': { readonly sheet: number; readonly shiftXmm: Mm; readonly shiftYmm: Mm };
  /** Gutter or head is wrong: the page lies beside its place among the others of its side. */
  readonly 'page-off-place': OnSheet & { readonly shiftXmm: Mm; readonly shiftYmm: Mm };
  /** How far the innermost leaf was to be moved towards the spine, and was. */
  readonly 'creep-off-plan': { readonly sheet: number; readonly plannedMm: Mm; readonly foundMm: Mm };
  /** Of sheets that come as one plate for each ink. */
  readonly 'separation-missing': OnPlate;
  /** A further file for an ink that the side has, or the same picture for two inks. */
  readonly 'separation-doubled': OnPlate & { readonly file: string };
  /** Which sheet it is of; null where it is of none that was sent. */
  readonly 'separation-of-another-sheet': OnPlate & { readonly belongsToSheet: number | null };
  readonly 'inks-exchanged': OnPlate & { readonly otherInk: string };
  readonly 'separation-out-of-register': OnPlate & { readonly shiftXmm: Mm; readonly shiftYmm: Mm };
  /** Nothing is on the plate where the dummy shows its colour. */
  readonly 'separation-empty': OnPlate;
  readonly 'screen-coarse': OnPlate & { readonly rulingLpi: number; readonly limitLpi: number };
  readonly 'picture-missing': Nothing;
  readonly 'picture-added': Nothing;
  readonly 'picture-replaced': { readonly likeness: number };
  readonly 'picture-moved': { readonly shiftXmm: Mm; readonly shiftYmm: Mm };
  readonly 'picture-resized': { readonly scale: number };
  readonly 'crop-altered': {
    readonly shiftXmm: Mm;
    readonly shiftYmm: Mm;
    readonly scale: number;
    readonly cutMm: CutMm;
    /** Half-width of what the registration cannot tell, in mm. */
    readonly uncertaintyMm: Mm;
    /** Whether the pixels or, where they are too soft, the placements decided. */
    readonly decidedBy: 'pixels' | 'placement';
  };
  readonly 'picture-turned': { readonly degrees: Deg };
  readonly 'picture-mirrored': { readonly axis: 'horizontal' | 'vertical' };
  readonly 'picture-retouched': { readonly areaMm2: number };
  readonly 'picture-recoloured': { readonly meanDeltaE00: number; readonly worstDeltaE00: number };
  readonly 'picture-coarse': { readonly ppi: Ppi; readonly limitPpi: Ppi };
  readonly 'text-changed': { readonly before: string; readonly after: string };
  readonly 'artwork-changed': { readonly areaMm2: number };
}

/** The name of a kind of finding, as reports have it. */
export type FindingKind = keyof Measured;

/** Kinds that are told of sheets and plates: of where pages lie and what prints them, not of what pages show. */
export const SHEET_KINDS: ReadonlySet<FindingKind> = new Set([
  'page-in-wrong-cell',
  'pages-exchanged',
  'sides-exchanged',
  'section-out-of-order',
  'collating-mark-off',
  'back-out-of-register',
  'page-off-place',
  'creep-off-plan',
  'separation-missing',
  'separation-doubled',
  'separation-of-another-sheet',
  'inks-exchanged',
  'separation-out-of-register',
  'separation-empty',
  'screen-coarse',
]);

/** A finding of one kind, before it has its place in a report. Boxes as the report has them. */
export interface FindingOf<K extends FindingKind> {
  readonly kind: K;
  readonly weight: Weight;
  readonly dummyPage: number | null;
  readonly revisionPage: number | null;
  readonly box: Box | null;
  readonly revisionBox: Box | null;
  readonly measured: Measured[K];
  readonly says: string;
}

/** One difference from the dummy. */
export type Finding = { [K in FindingKind]: FindingOf<K> }[FindingKind];

/** Whether a finding is told of a plate of this side, rather than of a page. */
export function isOfPlateOn({ measured }: Pick<Finding, 'measured'>, side: Pick<OnPlate, 'sheet' | 'side'>): boolean {
  return 'ink' in measured && measured.sheet === side.sheet && measured.side === side.side;
}
