import type { Box, Deg, Mm } from '../../../src/model/index.ts';
import { placePicture } from '../placement.ts';
import type { PictureItem, Treatment } from '../spec.ts';
import { changePage } from './pages.ts';
import type { Edit } from './pages.ts';

/** An alteration of one placed picture. */
export type PictureEdit = (item: PictureItem) => PictureItem;

/** Alters the nth picture of a page, counted from 1. */
export function changePicture(pageNumber: number, nth: number, change: PictureEdit): Edit {
  return changePage(pageNumber, (page) => {
    let met = 0;
    const items = page.items.map((item) => {
      if (item.kind !== 'picture') return item;
      met += 1;
      return met === nth ? change(item) : item;
    });
    if (met < nth) throw new Error(`page ${pageNumber} has ${met} pictures`);
    return { ...page, items };
  });
}

export function dropPicture(pageNumber: number, nth: number): Edit {
  return changePage(pageNumber, (page) => {
    const item = page.items.filter(({ kind }) => kind === 'picture')[nth - 1];
    return { ...page, items: page.items.filter((other) => other !== item) };
  });
}

export function addPicture(pageNumber: number, item: PictureItem): Edit {
  return changePage(pageNumber, (page) => ({ ...page, items: [...page.items, item] }));
}

/** Content shifted in its window, which stays. */
export function shiftContent(rightMm: Mm, downMm: Mm): PictureEdit {
  return (item) => {
    const { sourceMm } = placePicture(item);
    const crop = { ...item.crop, x: item.crop.x - rightMm / sourceMm.width, y: item.crop.y - downMm / sourceMm.height };
    return { ...item, crop: requireInside(crop) };
  };
}

/** Content scaled about the middle of its window, which stays. */
export function scaleContent(scale: number): PictureEdit {
  return (item) => {
    const width = item.crop.width / scale;
    const height = item.crop.height / scale;
    const x = item.crop.x + (item.crop.width - width) / 2;
    const y = item.crop.y + (item.crop.height - height) / 2;
    return { ...item, crop: requireInside({ x, y, width, height }) };
  };
}

/** One edge of the window cut back (positive) or pushed out; content stays on the page. */
export function cutEdge(edge: 'left' | 'right' | 'top' | 'bottom', mm: Mm): PictureEdit {
  return (item) => {
    const { sourceMm } = placePicture(item);
    const cut = (box: Box, x: number, y: number): Box => ({
      x: box.x + (edge === 'left' ? x : 0),
      y: box.y + (edge === 'top' ? y : 0),
      width: box.width - (edge === 'left' || edge === 'right' ? x : 0),
      height: box.height - (edge === 'top' || edge === 'bottom' ? y : 0),
    });
    const crop = requireInside(cut(item.crop, mm / sourceMm.width, mm / sourceMm.height));
    return { ...item, frame: cut(item.frame, mm, mm), crop };
  };
}

/** Window and content moved together. */
export function moveFrame(rightMm: Mm, downMm: Mm): PictureEdit {
  return (item) => ({ ...item, frame: { ...item.frame, x: item.frame.x + rightMm, y: item.frame.y + downMm } });
}

/** Window and content scaled together about the middle. */
export function scaleFrame(scale: number): PictureEdit {
  return (item) => {
    const { x, y, width, height } = item.frame;
    const frame = {
      x: x + (width * (1 - scale)) / 2,
      y: y + (height * (1 - scale)) / 2,
      width: width * scale,
      height: height * scale,
    };
    return { ...item, frame };
  };
}

/**
 * Content turned clockwise about the middle of its window. At a quarter turn the crop is the largest of the turned shape
 * around the same middle, so that nothing is stretched.
 */
export function turnContent(degrees: Deg): PictureEdit {
  return (item) => {
    if (Math.round(degrees / 90) % 2 === 0) return { ...item, turnDeg: degrees };
    const { sourceMm } = placePicture(item);
    const aspect = (item.frame.height / item.frame.width) * (sourceMm.height / sourceMm.width);
    const width = Math.min(item.crop.width, item.crop.height * aspect);
    const height = width / aspect;
    const x = item.crop.x + (item.crop.width - width) / 2;
    const y = item.crop.y + (item.crop.height - height) / 2;
    return { ...item, turnDeg: degrees, crop: { x, y, width, height } };
  };
}

export function mirrorContent(axis: 'horizontal' | 'vertical'): PictureEdit {
  return (item) => ({ ...item, mirrored: axis });
}

/** Another picture in the same window; its middle shows, undistorted. */
export function replaceSource(source: string, crop?: Box): PictureEdit {
  return (item) => ({ ...item, source, ...(crop === undefined ? {} : { crop }) });
}

export function treatPicture(...treatments: readonly Treatment[]): PictureEdit {
  return (item) => ({ ...item, treatments: [...(item.treatments ?? []), ...treatments] });
}

export function coarsen(ppi: number): PictureEdit {
  return (item) => ({ ...item, ppi });
}

function requireInside(crop: Box): Box {
  const over = Math.max(0 - crop.x, 0 - crop.y, crop.x + crop.width - 1, crop.y + crop.height - 1);
  if (over > 1e-9) throw new Error('the picture has nothing more to show there');
  return crop;
}
