import type { Shot } from '../pictures/exhibit.ts';

/** Where a picture lies on the sheet, in points from its top left corner. */
export interface PtBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The pictures of a report on paper, by name. */
export interface PictureStock {
  put(name: string, jpeg: Uint8Array): void;
  /** Draws a picture into a box, or a grey ground where it is absent; its bytes stand in the file once. */
  place(document: PDFKit.PDFDocument, shot: Shot, box: PtBox): void;
}

/** An empty stock. */
export function newPictureStock(): PictureStock {
  const bytes = new Map<string, Uint8Array>();
  const opened = new Map<string, unknown>();
  return {
    put: (name, jpeg) => bytes.set(name, jpeg),
    place: (document, shot, box) => {
      const jpeg = bytes.get(shot.name);
      if (jpeg === undefined) {
        document.rect(box.x, box.y, box.width, box.height).fill('#dddddd');
        return;
      }
      // The same bytes given twice would be embedded twice: an opened picture is used again.
      const image = opened.get(shot.name) ?? openImage(document, jpeg);
      opened.set(shot.name, image);
      document.image(image as PDFKit.Mixins.ImageSrc, box.x, box.y, { width: box.width, height: box.height });
    },
  };
}

/** Opens a picture for repeated use; pdfkit documents the method, its types leave it out. */
function openImage(document: PDFKit.PDFDocument, jpeg: Uint8Array): unknown {
  return (document as unknown as { openImage(source: Buffer): unknown }).openImage(Buffer.from(jpeg));
}
