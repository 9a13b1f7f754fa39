import { Refusal } from './refusal.ts';

interface Entry {
  readonly value: number;
  readonly least: number;
  readonly most: number;
  /** Where the name leaves open how colours are measured. */
  readonly unit?: 'CIEDE2000' | 'CIELAB';
  readonly reason: string;
}

/**
 * Every tolerance of the comparison: its default, the range it may be set to, and its reason. Units are in the names:
 * Mm, Mm2, Pt, Ppi, Lpi, Deg, Percent, DeltaE. A DeltaE is CIEDE2000 where a person's eye is meant (`retouchDeltaE`), and the
 * plain distance in CIELAB where greys and flat tints are told apart (`castDeltaE`, `artworkDeltaE`); `unit` says which.
 */
export const TOLERANCE_TABLE = {
  analysisPpi: {
    value: 100,
    least: 60,
    most: 200,
    reason: 'a dummy has about 100 ppi; a tenth of a millimetre is then 0.4 px, which registration resolves',
  },
  finePpi: {
    value: 250,
    least: 100,
    most: 400,
    reason: 'the bar of an e of 7 pt type is a pixel high and stands a pixel clear of other ink here',
  },
  trimMm: {
    value: 0.3,
    least: 0.01,
    most: 10,
    reason: 'a cutter holds about 1 mm (common practice, no source); files must agree better than that',
  },
  cropMm: {
    value: 0.35,
    least: 0.05,
    most: 20,
    reason: 'half a millimetre must be seen; what exporters round stays under a fifth (common practice, no source)',
  },
  scalePercent: { value: 1, least: 0.1, most: 50, reason: '1.5 % must be seen; exporters round below 0.3 %' },
  turnDeg: { value: 0.3, least: 0.05, most: 45, reason: 'half a degree must be seen' },
  textPlaceMm: {
    value: 0.35,
    least: 0.05,
    most: 20,
    reason: 'a line moved by a point (0.35 mm) is what a proofreader marks (common practice, no source)',
  },
  retouchPercent: {
    value: 0.12,
    least: 0.01,
    most: 50,
    reason: 'of the area of the picture: 0.2 % must be seen, with room for a patch whose rim fades',
  },
  retouchMm2: { value: 1.5, least: 0.1, most: 10000, reason: 'smaller spots are dust and compression noise' },
  retouchDeltaE: {
    value: 6,
    least: 1,
    most: 100,
    unit: 'CIEDE2000',
    reason: 'contrast of a patch that a person sees at a glance',
  },
  castDeltaE: {
    value: 6,
    least: 1,
    most: 100,
    unit: 'CIELAB',
    reason: 'a conversion keeps greys within a few units of grey; a cast beyond is not a conversion',
  },
  saturationPercent: {
    value: 45,
    least: 1,
    most: 100,
    reason: 'colourfulness kept: CMYK on uncoated stock keeps about 60 %; below this the picture was turned to grey',
  },
  artworkMm2: { value: 0.5, least: 0.05, most: 10000, reason: 'a hairline of 0.1 mm and 5 mm length' },
  artworkDeltaE: {
    value: 10,
    least: 1,
    most: 100,
    unit: 'CIELAB',
    reason: 'flat tints move by a few units in a conversion',
  },
  registerMm: {
    value: 0.3,
    least: 0.05,
    most: 10,
    reason: 'a press holds front to back within half a millimetre (common practice, no source); plates must be better',
  },
  sheetPlaceMm: {
    value: 0.5,
    least: 0.05,
    most: 20,
    reason: 'a page beside its place on the sheet shows at the trim from about here; measuring is ten times finer',
  },
  creepMm: {
    value: 0.2,
    least: 0.05,
    most: 5,
    reason: 'of the innermost leaf: under two sheets of usual paper, which nobody sees at the fore-edge',
  },
  separationMm: {
    value: 0.1,
    least: 0.03,
    most: 10,
    reason:
      'over half a row of dots at 150 lines an inch, where edges begin to fringe; plates of one run agree to a pixel',
  },
  rulingLpi: {
    value: 100,
    least: 30,
    most: 500,
    reason: 'photo books are screened from 150 lines an inch on, newspapers at 85 (common practice, no source)',
  },
  coarsePpi: {
    value: 200,
    least: 36,
    most: 2400,
    reason: 'just under 1.41 times a 150 line screen (212 ppi), the floor that trade pages give',
  },
} as const satisfies Record<string, Entry>;

/** The name of a tolerance, as a person sets it. */
export type ToleranceName = keyof typeof TOLERANCE_TABLE;

/** Every tolerance in force. */
export type Tolerances = Readonly<Record<ToleranceName, number>>;

const NAMES = Object.keys(TOLERANCE_TABLE) as readonly ToleranceName[];

/** The tolerances that hold where nobody set others. */
export const DEFAULT_TOLERANCES: Tolerances = Object.fromEntries(
  NAMES.map((name) => [name, TOLERANCE_TABLE[name].value]),
) as Record<ToleranceName, number>;

/**
 * Tolerances from outside, laid over the defaults.
 *
 * @param given  a parsed JSON value: an object of tolerance names and numbers
 * @throws {Refusal} malformed: not an object, an unknown name, not a number, or out of the range of the table
 */
export function parseTolerances(given: unknown): Tolerances {
  if (typeof given !== 'object' || given === null || Array.isArray(given)) {
    throw new Refusal('malformed', { pointer: 'tolerances', expected: 'an object', found: JSON.stringify(given) });
  }
  const result: Record<ToleranceName, number> = { ...DEFAULT_TOLERANCES };
  for (const [name, value] of Object.entries(given)) {
    if (!isToleranceName(name)) {
      throw new Refusal('malformed', {
        pointer: `tolerances/${name}`,
        expected: `one of ${NAMES.join(', ')}`,
        found: name,
      });
    }
    const { least, most } = TOLERANCE_TABLE[name];
    if (typeof value !== 'number' || !(value >= least && value <= most)) {
      throw new Refusal('malformed', {
        pointer: `tolerances/${name}`,
        expected: `a number from ${least} to ${most}`,
        found: JSON.stringify(value),
      });
    }
    result[name] = value;
  }
  return result;
}

function isToleranceName(name: string): name is ToleranceName {
  return Object.hasOwn(TOLERANCE_TABLE, name);
}
