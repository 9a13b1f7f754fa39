import { colourField } from '../../../src/comparing/page-colours.ts';
import type { LaidOver } from '../../../src/comparing/pictures/lay-over.ts';
import { layOver } from '../../../src/comparing/pictures/lay-over.ts';
import { affineOf } from '../../../src/comparing/registration/similarity.ts';
import type { Carrying, Scene } from '../made-up-scenes.ts';
import { paint, similarityFor } from '../made-up-scenes.ts';

/** Half the analysis resolution, at which large pictures are judged. */
const HALF_PPI = 50;
export const CELL_MM = 25.4 / HALF_PPI;

const SIZE = { width: 60, height: 44 };

/** Two drawn scenes laid over each other; the second shows the first carried so. */
export function layScenes(dummy: Scene, revision: Scene, carrying: Carrying = {}): LaidOver {
  const [one, other] = [dummy, revision].map((scene) => {
    const raster = paint(SIZE, HALF_PPI, [{ box: { x: 0, y: 0, width: 70, height: 50 }, scene }]);
    return colourField(raster, { left: 0, top: 0, width: raster.width, height: raster.height });
  });
  const { shiftX, shiftY, ...rest } = similarityFor(carrying);
  const map = { ...rest, shiftX: shiftX / CELL_MM, shiftY: shiftY / CELL_MM };
  return layOver({ dummy: one!, revision: other! }, affineOf(map), null);
}
