import { pictureName } from '../../reporting/index.ts';

/** Where the picture of a page is; the address names what it shows. `&width=` may be added. */
export function pictureAddress(fileId: string, pageNumber: number, contentHash: string): string {
  return `/api/files/${fileId}/pages/${pageNumber}/picture?shows=${pictureName(contentHash)}`;
}

/** The same of a page as it lies in the file that was sent: of imposed sheets, a side. */
export function sideAddress(fileId: string, pageNumber: number, contentHash: string): string {
  return `/api/files/${fileId}/sides/${pageNumber}/picture?shows=${pictureName(contentHash)}`;
}
