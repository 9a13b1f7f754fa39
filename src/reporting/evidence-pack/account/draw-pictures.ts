import { COLOUR, MARGIN, MEASURE, requireRoom, STYLE, tagged } from '../../pdf/paper.ts';
import type { Paper } from '../../pdf/paper.ts';
import { newPictureStock } from '../../pdf/picture-stock.ts';
import { breakLines, drawLines, LEADING } from '../../pdf/type-setting.ts';
import type { PaperPicture } from './account-pictures.ts';

const GAP = 12;
const IN_A_ROW = 3;
const COLUMN = (MEASURE - GAP * (IN_A_ROW - 1)) / IN_A_ROW;
const MOST_HIGH = 220;

/** Pictures side by side, three in a row, each with its caption below. */
export function drawPictures(
  paper: Paper,
  shown: readonly { readonly member: string; readonly caption: string }[],
  pictures: ReadonlyMap<string, PaperPicture>,
): void {
  paper.y += 8;
  for (let from = 0; from < shown.length; from += IN_A_ROW) {
    drawRow(
      paper,
      shown.slice(from, from + IN_A_ROW).flatMap(({ member, caption }) => {
        const picture = pictures.get(member);
        return picture === undefined ? [] : [{ ...picture, member, caption }];
      }),
    );
  }
}

function drawRow(
  paper: Paper,
  row: readonly (PaperPicture & { readonly member: string; readonly caption: string })[],
): void {
  const { document } = paper;
  const stock = newPictureStock();
  const set = row.map((picture) => {
    const scale = Math.min(COLUMN / picture.width, MOST_HIGH / picture.height);
    stock.put(picture.member, picture.jpeg);
    return {
      ...picture,
      size: { width: picture.width * scale, height: picture.height * scale },
      lines: breakLines(paper, picture.caption, STYLE.quiet, COLUMN),
    };
  });
  const pictureHeight = Math.max(0, ...set.map(({ size }) => size.height));
  const captionHeight = Math.max(0, ...set.map(({ lines }) => lines.length)) * STYLE.quiet.sizePt * LEADING;
  requireRoom(paper, pictureHeight + captionHeight + 14);
  const { y } = paper;
  set.forEach(({ member, width, height, size, lines, caption }, index) => {
    const box = { x: MARGIN.left + index * (COLUMN + GAP), y, ...size };
    const draw = (): void => {
      stock.place(document, { name: member, width, height }, box);
      document.lineWidth(0.5).rect(box.x, box.y, box.width, box.height).stroke(COLOUR.hairline);
    };
    tagged(paper, 'Figure', draw, { alt: caption });
    tagged(paper, 'Caption', () => {
      drawLines(paper, lines, STYLE.quiet, { x: box.x, y: y + pictureHeight + 3 });
    });
  });
  paper.y = y + pictureHeight + captionHeight + 14;
}
