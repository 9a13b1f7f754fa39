import type { Box, Finding, Mm, Tolerances } from '../../model/index.ts';
import { areaMm2, mmFromPx, uniteBoxes } from '../../model/index.ts';
import type { ColourMap } from '../conversion/colour-map.ts';
import type { ColourField } from '../page-colours.ts';
import { colourField } from '../page-colours.ts';
import type { PageSide } from '../page-sides.ts';
import type { Patch } from '../regions/connected.ts';
import { mostlyCovered, uncovered } from '../regions/cover.ts';
import type { Similarity } from '../registration/similarity.ts';
import { affineOf, rescaleSimilarity } from '../registration/similarity.ts';
import type { ColourChange } from './colour-change.ts';
import { measureColourChange } from './colour-change.ts';
import type { GeometryChange } from './explain-geometry.ts';
import { explainGeometry } from './explain-geometry.ts';
import { layOver } from './lay-over.ts';
import type { LocalChange } from './local-change.ts';
import { findLocalChange } from './local-change.ts';
import { formatMm, sayGeometry } from './picture-sentences.ts';
import type { RegisteredPair } from './register-pair.ts';
import { registerPair } from './register-pair.ts';
import type { VisiblePicture } from './visible-window.ts';
import { pixelsWithin } from './visible-window.ts';

/** A picture pair to be judged, and the page it stands on. */
export interface PictureTask {
  readonly dummy: PageSide;
  readonly revision: PageSide;
  readonly dummyPicture: VisiblePicture;
  readonly revisionPicture: VisiblePicture;
  /** What lies over the picture on either page (type, other pictures), mm. */
  readonly covers: readonly Box[];
  readonly bookConversion: ColourMap;
}

/** What became of a picture. */
export interface PictureJudgement {
  readonly findings: readonly Finding[];
  readonly colour: { readonly meanDeltaE00: number; readonly worstDeltaE00: number; readonly areaMm2: number } | null;
  /** How the content moved, mm; null where it is another picture or nothing of it can be seen. */
  readonly map: Similarity | null;
}

/** Whether it is not the same picture in the same place drawn in another way, which differs at most by a retouched part. */
export function isOther({ findings }: PictureJudgement): boolean {
  return findings.some(({ kind }) => kind !== 'picture-retouched');
}

/** From here on a share of differing picture makes it another picture, however alike the rest. */
const OTHER_PICTURE_SHARE = 0.35;
const UNLIKE_SHARE = 0.15;
const UNLIKE = 0.7;
/** Retouching mends a few spots; changes in many places come from another frame of the scene. */
const FRAME_PATCHES = 4;
const FRAME_SHARE = 0.03;
/** Where the crop slipped as well, fewer spots speak for another frame: a camera that moved a little, a scene that moved. */
const MOVED_FRAME_SHARE = 0.01;
/** From this displacement on a crop stops the plates; below it wants a look. */
const CROP_STOPS_MM = 1;

/** Judges one picture pair: another picture, place and crop, local changes, colours. Most telling kinds only. */
export function judgePicture(task: PictureTask, tolerances: Tolerances): PictureJudgement {
  const { dummy, revision, dummyPicture, revisionPicture } = task;
  if (isCovered(task)) return { findings: [], colour: null, map: null };
  const registered = registerPair(
    { seen: dummyPicture, side: dummy },
    { seen: revisionPicture, side: revision },
    task.covers,
    tolerances,
  );
  const about = aboutPair(task);
  if (registered === null) return { findings: [replaced(about, 0)], colour: null, map: null };
  const { map } = registered;
  const compared = compareColours(task, map, tolerances);
  if (compared === null) return { findings: geometryFindings(task, registered, about, tolerances), colour: null, map };
  const { change, local, cellMm, field } = compared;
  const findings = geometryFindings(task, registered, about, tolerances);
  const slanted = findings.some(({ kind }) => kind === 'picture-turned') && !isQuarterTurn(registered.map.turnRad);
  const recropped = findings.some(({ kind }) => kind === 'crop-altered');
  if (isOtherPicture(registered, local, { slanted, recropped })) {
    return { findings: [replaced(about, registered.likeness)], colour: null, map: null };
  }
  // what a strange treatment of the colours leaves over here and there is part of it, not a second fault
  if (change.beyond !== null) findings.push(recoloured(change, about));
  else if (local.patches.length > 0) findings.push(retouched(local.patches, field, cellMm, about));
  const { meanDeltaE00, worstDeltaE00 } = change;
  return { findings, colour: { meanDeltaE00, worstDeltaE00, areaMm2: areaMm2(dummyPicture.window) }, map };
}

/** Probed coarsely: under so much type or other pictures there is nothing left to judge. */
function isCovered({ dummy, dummyPicture, covers }: PictureTask): boolean {
  if (covers.length === 0) return false;
  const ppi = dummy.raster.ppi / 4;
  const { window } = dummyPicture;
  const cells = (length: Mm): number => Math.max(1, Math.round((length * ppi) / 25.4));
  const area = {
    left: Math.round((window.x * ppi) / 25.4),
    top: Math.round((window.y * ppi) / 25.4),
    width: cells(window.width),
    height: cells(window.height),
  };
  return mostlyCovered(uncovered(area, ppi, covers));
}

interface About {
  readonly dummyPage: number;
  readonly revisionPage: number;
  readonly box: Box;
  readonly revisionBox: Box;
}

function aboutPair({ dummy, revision, dummyPicture, revisionPicture }: PictureTask): About {
  return {
    dummyPage: dummy.facts.pageNumber,
    revisionPage: revision.facts.pageNumber,
    box: dummyPicture.window,
    revisionBox: revisionPicture.window,
  };
}

interface ComparedColours {
  readonly change: ColourChange;
  readonly local: LocalChange;
  readonly cellMm: Mm;
  readonly field: ColourField;
}

/** Windows smaller than this at half resolution are judged at the full one. */
const SMALL_CELLS = 40;

function compareColours(task: PictureTask, map: Similarity, tolerances: Tolerances): ComparedColours | null {
  const { dummy, revision, dummyPicture, revisionPicture } = task;
  const full = pixelsWithin(dummyPicture.window, dummy.raster, 1);
  const small = Math.min(full.width, full.height) < 2 * SMALL_CELLS;
  const [one, other] = small ? [dummy.raster, revision.raster] : [dummy.half(), revision.half()];
  const dummyArea = pixelsWithin(dummyPicture.window, one, 1);
  const field = colourField(one, dummyArea);
  const otherField = colourField(other, pixelsWithin(revisionPicture.window, other, 1));
  const speaks = uncovered(dummyArea, one.ppi, task.covers);
  const cellMm = mmFromPx(1, one.ppi);
  const laid = layOver({ dummy: field, revision: otherField }, affineOf(rescaleSimilarity(map, 1 / cellMm)), speaks);
  const change = measureColourChange(laid, task.bookConversion, tolerances);
  if (change === null) return null;
  return { change, local: findLocalChange(laid, change.map, cellMm, tolerances), cellMm, field };
}

function isOtherPicture(
  { likeness }: RegisteredPair,
  { patches, differingShare, usualMisfit }: LocalChange,
  { slanted, recropped }: { readonly slanted: boolean; readonly recropped: boolean },
): boolean {
  if (usualMisfit > UNEXPLAINED) return true;
  if (differingShare > OTHER_PICTURE_SHARE) return true;
  if (Math.abs(likeness) < UNLIKE && differingShare > UNLIKE_SHARE) return true;
  // a camera held in the hand turns a little between two frames, and the scene moves
  if (slanted && patches.length > 0 && differingShare > SLANTED_SHARE) return true;
  return patches.length >= FRAME_PATCHES && differingShare > (recropped ? MOVED_FRAME_SHARE : FRAME_SHARE);
}

/** Half of the picture unexplained by so much is another picture: grain and compression leave 1 to 3. */
const UNEXPLAINED = 4;
const SLANTED_SHARE = 0.008;

function isQuarterTurn(turnRad: number): boolean {
  const quarters = turnRad / (Math.PI / 2);
  return Math.abs(quarters - Math.round(quarters)) < 0.05 && Math.round(quarters) !== 0;
}

function geometryFindings(
  task: PictureTask,
  registered: RegisteredPair,
  about: About,
  tolerances: Tolerances,
): Finding[] {
  const change = explainGeometry(
    {
      dummyWindow: task.dummyPicture.window,
      revisionWindow: task.revisionPicture.window,
      dummyPage: task.dummy.facts.trimmed,
      revisionPage: task.revision.facts.trimmed,
      map: registered.map,
      uncertaintyXmm: registered.uncertaintyXmm,
      uncertaintyYmm: registered.uncertaintyYmm,
      scaleUncertainty: registered.scaleUncertainty,
      turnUncertaintyDeg: registered.turnUncertaintyDeg,
    },
    tolerances,
  );
  return change.kind === 'unchanged' ? [] : [geometryFinding(change, registered, about)];
}

function geometryFinding(
  change: Exclude<GeometryChange, { kind: 'unchanged' }>,
  registered: RegisteredPair,
  about: About,
): Finding {
  const uncertaintyMm = Math.max(registered.uncertaintyXmm, registered.uncertaintyYmm);
  const says = sayGeometry(change, uncertaintyMm, registered.decidedBy);
  switch (change.kind) {
    case 'picture-mirrored':
      return { ...about, kind: change.kind, weight: 'stop', measured: { axis: change.axis }, says };
    case 'picture-turned':
      return { ...about, kind: change.kind, weight: 'stop', measured: { degrees: change.degrees }, says };
    case 'picture-moved': {
      const { shiftXmm, shiftYmm } = change;
      const weight = Math.hypot(shiftXmm, shiftYmm) >= CROP_STOPS_MM ? 'stop' : 'look';
      return { ...about, kind: change.kind, weight, measured: { shiftXmm, shiftYmm }, says };
    }
    case 'picture-resized':
      return { ...about, kind: change.kind, weight: 'stop', measured: { scale: change.scale }, says };
    case 'crop-altered': {
      const { shiftXmm, shiftYmm, scale, cutMm } = change;
      const worst = Math.max(
        Math.hypot(shiftXmm, shiftYmm),
        ...[cutMm.left, cutMm.right, cutMm.top, cutMm.bottom].map(Math.abs),
      );
      return {
        ...about,
        kind: change.kind,
        weight: worst >= CROP_STOPS_MM ? 'stop' : 'look',
        measured: { shiftXmm, shiftYmm, scale, cutMm, uncertaintyMm, decidedBy: registered.decidedBy },
        says,
      };
    }
  }
}

const SAME_SCENE = 0.75;

function replaced(about: About, likeness: number): Finding {
  const measured = { likeness: Math.max(0, Math.min(1, likeness)) };
  const another = measured.likeness > SAME_SCENE ? 'Another frame of the same scene' : 'Another picture';
  const says = `${another} stands in this place (likeness ${measured.likeness.toFixed(2)} of 1).`;
  return { ...about, kind: 'picture-replaced', weight: 'stop', measured, says };
}

function retouched(patches: readonly Patch[], field: ColourField, cellMm: Mm, about: About): Finding {
  const boxes = patches.map((patch) => ({
    x: (field.left + patch.left) * cellMm,
    y: (field.top + patch.top) * cellMm,
    width: (patch.right - patch.left) * cellMm,
    height: (patch.bottom - patch.top) * cellMm,
  }));
  const area = patches.reduce((sum, { cells }) => sum + cells, 0) * cellMm * cellMm;
  const box = boxes.reduce(uniteBoxes);
  const where = `${formatMm(box.x)} from the left and ${formatMm(box.y)} from the top`;
  const says = `A part of the picture shows something else: ${area.toFixed(1)} mm² in ${patches.length === 1 ? 'one place' : `${patches.length} places`}, ${where} of the page.`;
  return { ...about, box, kind: 'picture-retouched', weight: 'stop', measured: { areaMm2: area }, says };
}

function recoloured(change: ColourChange, about: About): Finding {
  const { meanDeltaE00, worstDeltaE00 } = change;
  const says = `The picture's colours changed by more than a conversion explains: ${change.beyond} (colour difference ${meanDeltaE00.toFixed(1)} on average, ${worstDeltaE00.toFixed(1)} at worst, CIEDE2000).`;
  return { ...about, kind: 'picture-recoloured', weight: 'stop', measured: { meanDeltaE00, worstDeltaE00 }, says };
}
