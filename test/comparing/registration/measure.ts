import { registerPicture } from '../../../src/comparing/registration/register.ts';
import { recentre } from '../../../src/comparing/registration/similarity.ts';
import type { Scene } from '../made-up-scenes.ts';
import { paint } from '../made-up-scenes.ts';
import { PPI } from '../sketched-page.ts';

/** What registering one drawn picture to another came to, in mm and degrees about the picture's middle. */
export interface Measurement {
  readonly shiftXmm: number;
  readonly shiftYmm: number;
  readonly scale: number;
  readonly turnDeg: number;
  readonly mirrored: boolean;
  readonly likeness: number;
  readonly overlap: number;
  /** Standard deviations of the shift. */
  readonly sureXmm: number;
  readonly sureYmm: number;
  readonly scaleDeviation: number;
}

interface Asked {
  readonly size: { readonly width: number; readonly height: number };
  /** Pixels that must not speak. */
  readonly mask?: (x: number, y: number) => boolean;
}

/** Draws two scenes on pictures of one size and registers the second to the first. */
export function measure(dummy: Scene, revision: Scene, { size, mask }: Asked): Measurement | null {
  // A little over the edge, so that no pixel at the rim is half paper.
  const box = { x: 0, y: 0, width: size.width + 1, height: size.height + 1 };
  const [one, other] = [dummy, revision].map((scene) => paint(size, PPI, [{ box, scene }])) as [
    ReturnType<typeof paint>,
    ReturnType<typeof paint>,
  ];
  const window = { left: 0, top: 0, width: one.width, height: one.height };
  const mm = 25.4 / PPI;
  const speaks = (at: number) =>
    mask!(((at % one.width) + 0.5) * mm, (Math.floor(at / one.width) + 0.5) * mm) ? 0 : 1;
  const found = registerPicture({
    dummy: one,
    revision: other,
    dummyWindow: window,
    revisionWindow: window,
    mask: mask === undefined ? null : Uint8Array.from({ length: one.width * one.height }, (_, at) => speaks(at)),
    hints: [],
  });
  if (found === null) return null;
  const map = recentre(found.map, size.width / 2 / mm, size.height / 2 / mm);
  return {
    shiftXmm: map.shiftX * mm,
    shiftYmm: map.shiftY * mm,
    scale: map.scale,
    turnDeg: (map.turnRad * 180) / Math.PI,
    mirrored: map.mirrored,
    likeness: found.likeness,
    overlap: found.overlap,
    sureXmm: Math.sqrt(found.varXX) * mm,
    sureYmm: Math.sqrt(found.varYY) * mm,
    scaleDeviation: found.scaleDeviation,
  };
}
