import { joinBytes } from '../../../model/index.ts';
import type { Grey, PlateShift, Screen } from '../../../plates/index.ts';
import { estimateScreen, evenSquares, inkGrid, plateMarks, registerPlates } from '../../../plates/index.ts';
import type { Book, InkTones, TonesOnDisk } from '../../../reading/index.ts';
import {
  cutPlate,
  drawPage,
  fewerTones,
  meanTone,
  plateFromPage,
  putTones,
  readTones,
  shrinkPlate,
} from '../../../reading/index.ts';
import type { PlateJob, PlatesJob, RegisterJob, SeenPlate, SeenTogether } from '../../page-jobs.ts';

/** Dots are told apart in a square of so many pixels; a power of two. */
const SQUARE_PX = 512;
/** In a plate that is not in strips each costs decoding down to it. */
const MOST_SQUARES = 2;

/** Brings a plate down to tones, puts them aside in two sizes, and estimates its screen. `bookAt` opens a PDF. */
export async function readPlate(job: PlateJob, bookAt: (path: string) => Promise<Book>): Promise<SeenPlate> {
  const { path, name, page, tones, look, header, limits } = job;
  const shrunk =
    page === null
      ? await shrinkPlate({ path, name }, tones)
      : await fewerTones(
          plateFromPage(
            (await drawPage({ book: await bookAt(path), pageNumber: page, ppi: header.ppi.x, limits })).raster,
          ),
          tones,
        );
  const putAside = async (): Promise<void> => {
    await putTones(shrunk, tones.path);
    await putTones(await fewerTones(shrunk, look), look.path);
  };
  const [screen] = await Promise.all([screenOf(job, shrunk), putAside()]);
  return { coveragePercent: (meanTone(shrunk) / 255) * 100, screen };
}

/** Of a plate in one bit; tones of eight are screened later. */
async function screenOf({ path, name, header }: PlateJob, shrunk: InkTones): Promise<Screen | null> {
  const { pixelWidth, pixelHeight, bits, ppi } = header;
  if (bits !== 1 || pixelWidth < 2 * SQUARE_PX || pixelHeight < 2 * SQUARE_PX) return null;
  const share = { x: SQUARE_PX / pixelWidth, y: SQUARE_PX / pixelHeight };
  for (const place of evenSquares(shrunk, share, MOST_SQUARES)) {
    const left = Math.min(pixelWidth - SQUARE_PX, Math.round(place.x * pixelWidth));
    const top = Math.min(pixelHeight - SQUARE_PX, Math.round(place.y * pixelHeight));
    const screen = estimateScreen(await cutPlate({ path, name }, { left, top, side: SQUARE_PX }), ppi.x);
    if (screen !== null) return screen;
  }
  return null;
}

/** How the plates of a side lie on each other. */
export async function registerLooks({ looks, pxPerMm }: RegisterJob): Promise<readonly (PlateShift | null)[]> {
  return registerPlates(await greysOf(looks, pxPerMm));
}

/** What each plate of a side has over the side's pages, and beside them. */
export async function seePlates({ looks, pxPerMm, cells }: PlatesJob): Promise<SeenTogether> {
  const plates = await greysOf(looks, pxPerMm);
  const boxes = cells.map(({ box }) => box);
  return {
    grids: plates.map((plate) => joinBytes(cells.map((cell) => inkGrid(plate, cell.box, cell.turnDeg, cell)))),
    marks: plates.map((plate) => plateMarks(plate, boxes)),
  };
}

async function greysOf(looks: readonly TonesOnDisk[], pxPerMm: number): Promise<readonly Grey[]> {
  return Promise.all(
    looks.map(async (look): Promise<Grey> => {
      const { width, height, data } = await readTones(look);
      return { width, height, pxPerMm, data: data.map((tone) => 255 - tone) };
    }),
  );
}
