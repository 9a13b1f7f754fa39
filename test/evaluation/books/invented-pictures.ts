import type { PictureLibrary, SourceImage } from '../../../demo/book/library.ts';
import { SCENES } from './scenes.ts';
import type { Rgb, Scene } from './scenes.ts';

const HEIGHT = 760;
export const INVENTED_ASPECT = 1.4;

/**
 * Pictures that no camera took: `foliage 3` is the third of its sort, `foliage 3 later` the same scene seconds later,
 * `foliage 3 grey` its grey print.
 */
export const INVENTED_PICTURES: PictureLibrary = {
  edition: 'invented pictures 1',
  printPx: 3000,
  async picture(name) {
    const [sort = '', seed = '0', ...prints] = name.split(' ');
    const scene = SCENES[sort];
    if (scene === undefined) throw new Error(`there is no scene ${sort}`);
    let view = scene(Number(seed));
    for (const print of prints) view = printed(view, print);
    return paint(view);
  },
};

function printed(view: Scene, print: string): Scene {
  switch (print) {
    case 'grey':
      return (x, y) => grey(view(x, y));
    case 'later':
      return (x, y) => secondsLater(view, x, y);
    default:
      throw new Error(`there is no print ${print}`);
  }
}

function grey([r, g, b]: Rgb): Rgb {
  const value = 0.2126 * r + 0.7152 * g + 0.0722 * b;
  return [value, value, value];
}

/** The camera has moved by a hair, what is nearer by more, and something dark has come into view on the left. */
function secondsLater(view: Scene, x: number, y: number): Rgb {
  const drift = 0.018 * Math.min(1, Math.max(0, (y - 0.45) / 0.2));
  const here = view(x * 0.99 + 0.009 - drift, y * 0.99 + 0.006);
  const newcomer = Math.hypot((x - 0.4) / 0.045, (y - 0.66) / 0.11);
  const part = 1 / (1 + Math.exp((newcomer - 1) * 30));
  return [here[0] * (1 - part) + 52 * part, here[1] * (1 - part) + 40 * part, here[2] * (1 - part) + 46 * part];
}

function paint(view: Scene): SourceImage {
  const width = Math.round(HEIGHT * INVENTED_ASPECT);
  const rgb = Buffer.alloc(width * HEIGHT * 3);
  for (let y = 0; y < HEIGHT; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const colour = view((x + 0.5) / HEIGHT, (y + 0.5) / HEIGHT);
      for (let c = 0; c < 3; c += 1) {
        rgb[(y * width + x) * 3 + c] = Math.min(255, Math.max(0, Math.round(colour[c] ?? 0)));
      }
    }
  }
  return { width, height: HEIGHT, rgb };
}
